// The errors that a field can have: for read.cc, and for whoever writes a Codec or a check.
//
// Each becomes one sentence that names the full path, the value given, what is permitted with its
// unit, and what to do. The words are in the catalogue under the ids of kErrorIds.
#pragma once

#include <array>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "fields/field.h"

namespace drawoff::fields {

// What a value may be, where it matters for the sentence.
enum class Wanted { kNumber, kInteger, kBoolean, kText, kList, kObject };

// `choices` are the names that may be given, if only some may; `similar` an unknown key nearby that
// was perhaps meant.
base::Error missing(const Place& place,
                    std::span<const std::string> choices = {},
                    std::string_view similar = {});
base::Error wrong_type(const Place& place,
                       const Json& given,
                       Wanted wanted,
                       std::span<const std::string> choices = {});
// `given` is in the unit of the place.
base::Error out_of_range(const Place& place, double given);
base::Error not_a_choice(const Place& place,
                         std::string_view given,
                         std::span<const std::string> choices);
// A text of so many characters, or a list of so many entries (Wanted::kText, Wanted::kList).
base::Error wrong_size(const Place& place, std::size_t count, Wanted what);

// A warning: a key that nothing here knows. `known` are those that exist.
base::Message unknown_field(const Path& parent,
                            std::string_view key,
                            std::span<const std::string_view> known,
                            bool kept);

// The parts for an error of one's own: the path as an argument, and a number of the place's unit
// that shows all the digits it was given with.
base::Argument path_argument(const Path& path);
base::Number given_number(double value, const units::Unit* unit);

// Every id that this folder uses, for the test of the catalogue.
inline constexpr std::array<std::string_view, 16> kErrorIds = {
    "error.choice",
    "error.json.deep",
    "error.json.duplicate",
    "error.json.empty",
    "error.json.encoding",
    "error.json.large",
    "error.json.number",
    "error.json.syntax",
    "error.json.truncated",
    "error.missing",
    "error.object",
    "error.range",
    "error.size",
    "error.type",
    "path.root",
    "warning.unknown_field",
};

}  // namespace drawoff::fields
