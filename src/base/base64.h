// Bytes as text and back: base64 with padding [rfc4648, 4], for files that travel in JSON.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace drawoff::base {

std::string to_base64(std::string_view bytes);
// None if the text is not such a text to the letter: no line ends, no missing padding.
std::optional<std::string> from_base64(std::string_view text);

}  // namespace drawoff::base
