// Quoting what a person gave: in a sentence, always on one line, never longer than it helps.
//
// Control characters, line separators and the marks that turn the direction of text are escaped,
// so that no input can forge a second line of output; more than kLongestQuote characters are cut.
#pragma once

#include <cstddef>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <string_view>

namespace drawoff::fields {

inline constexpr std::size_t kLongestQuote = 60;  // characters

// Text as it is, made harmless and cut.
std::string one_line(std::string_view text);
// The same in quotation marks.
std::string quote_text(std::string_view text);
// A JSON value as it was given: 5, "abc", [1,2,…
std::string quote_json(const nlohmann::ordered_json& json);

// The length in bytes of the UTF-8 character at the start of `text`, 0 if there is none [rfc3629].
std::size_t utf8_length(std::string_view text);
// How many characters a text has.
std::size_t utf8_count(std::string_view text);

// The candidate that the typed key is most likely meant to be, or empty: a slip or two of the
// fingers, or another unit of the same thing ("pressure_psi" for "pressure_bar").
template <class Candidates>
std::string nearest(std::string_view typed, const Candidates& candidates);

namespace detail {
// Smaller is nearer; above 1 is not near.
double distance(std::string_view typed, std::string_view candidate);
}  // namespace detail

template <class Candidates>
std::string nearest(std::string_view typed, const Candidates& candidates) {
  std::string_view best;
  double smallest = 1;
  for (const std::string_view candidate : candidates) {
    const double d = detail::distance(typed, candidate);
    if (d > smallest || (d == smallest && !best.empty())) continue;
    smallest = d;
    best = candidate;
  }
  return std::string(best);
}

}  // namespace drawoff::fields
