// Numbers for people: the one place where a number becomes text.
//
// A number is shown with significant digits, in the marks of the language, its unit after a
// no-break space. Zero is "0", never "-0"; powers of ten appear only outside 1e-6 … 1e15, where
// people write them too ("1.5×10⁻⁹"). In a language from right to left a quantity keeps the order
// of its number and unit (LRI … PDI, Unicode UAX 9). Marks follow the Unicode CLDR (from memory);
// the space before a unit, °C included, follows the SI Brochure 5.4.3 [bipm2019]; "%" follows the
// language.
//
//   format_number(1234.5, 5, "en")                      // "1,234.5"
//   format_number(1234.5, 5, "de")                      // "1.234,5"
//   format_quantity(Number{14, "L/h", 3}, "en")         // "14.0 L/h"
#pragma once

#include <string>
#include <string_view>

#include "base/message.h"

namespace drawoff::messages {

// `digits` are significant digits, 1 to 17. An unknown language is written as English.
std::string format_number(double value, int digits, std::string_view language);
std::string format_quantity(const base::Number& number, std::string_view language);
// A unit's symbol as the language writes it: what is a word and no symbol of the SI.
std::string unit_in(std::string_view symbol, std::string_view language);
// A plain number, "1234.5", with the decimal mark that is typed in the language and no groups.
std::string with_decimal_mark(std::string plain, std::string_view language);

// The nearest number of so many significant digits. 0 and what is not finite stay as they are.
double rounded(double value, int digits);

// The fewest significant digits that give exactly this number back: 2 for 1.5, 1 for 20000. For
// numbers that are repeated to the person who gave them.
int digits_of(double value);

}  // namespace drawoff::messages
