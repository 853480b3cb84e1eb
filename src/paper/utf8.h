// UTF-8 [rfc3629] to code points and back, for texts that people typed or that came damaged.
#pragma once

#include <string>
#include <string_view>

namespace drawoff::paper {

// What is no UTF-8 becomes U+FFFD, one for each byte that does not fit.
std::u32string decoded(std::string_view utf8);
// Every code point must be a Unicode scalar value.
std::string encoded(std::u32string_view text);

}  // namespace drawoff::paper
