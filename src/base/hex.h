// Bytes as text and back: two lower-case hexadecimal digits a byte, for hashes, keys and
// signatures.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace drawoff::base {

std::string to_hex(std::string_view bytes);
// None if the text is not such a text to the letter: no capitals, no odd digit.
std::optional<std::string> from_hex(std::string_view text);

}  // namespace drawoff::base
