// Text as laboratories, spreadsheets and phones write it, brought to one form for looking things
// up.
#pragma once

#include <string>
#include <string_view>

namespace drawoff::water {

// UTF-8 as it is; anything else is read as Windows-1252, the usual form of old spreadsheets, in
// which every byte means something. A byte order mark is taken off.
std::string utf8_text(std::string_view bytes);

// Lower case; no accents; typographic blanks, minus, micro, raised figures and letters as plain
// ones; "&lt;" as "<"; no blanks at the ends. "Härte (°dH) " -> "harte (°dh)".
std::string plain_text(std::string_view utf8);

// Letters and figures only, one blank between words: "Nitrate-N, total" -> "nitrate n total".
std::string words_of(std::string_view plain);

std::string trimmed(std::string_view text);

}  // namespace drawoff::water
