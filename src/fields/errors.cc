#include "fields/errors.h"

#include <cmath>

#include "fields/json.h"
#include "fields/quote.h"
#include "messages/number.h"

namespace drawoff::fields {

namespace {

using base::Argument;
using base::Error;
using base::ErrorKind;
using base::Message;
using base::Number;
using base::Ref;
using Arguments = std::vector<std::pair<std::string, Argument>>;

std::string joined(std::span<const std::string> choices) {
  std::string out;
  for (const std::string& name : choices) {
    if (!out.empty()) out += ", ";
    out += quote_text(name);
  }
  return out;
}

// The selector "range" and the numbers that its branches use. The unit stands once, at the end.
void add_range(Arguments& arguments,
               Range range,
               const units::Unit* unit,
               std::span<const std::string> choices = {}) {
  const bool low = std::isfinite(range.low);
  const bool high = std::isfinite(range.high);
  const char* which = low && high ? "between" : low ? "at_least" : high ? "at_most" : "none";
  arguments.emplace_back("range", !choices.empty() ? "choice" : which);
  arguments.emplace_back("low", given_number(range.low, high ? nullptr : unit));
  arguments.emplace_back("high", given_number(range.high, unit));
  arguments.emplace_back("choices", joined(choices));
}

Error error(const char* id, const Place& place, Arguments more) {
  Arguments arguments = {{"path", path_argument(place.path)}, {"meaning", Ref{place.meaning}}};
  for (auto& argument : more) arguments.push_back(std::move(argument));
  return {ErrorKind::kData, Message{id, std::move(arguments)}};
}

const char* name_of(Wanted wanted) {
  switch (wanted) {
    case Wanted::kNumber:
      return "number";
    case Wanted::kInteger:
      return "integer";
    case Wanted::kBoolean:
      return "boolean";
    case Wanted::kText:
      return "text";
    case Wanted::kList:
      return "list";
    case Wanted::kObject:
      return "object";
  }
  return "other";
}

}  // namespace

Argument path_argument(const Path& path) {
  if (path.is_root()) return Ref{"path.root"};
  return base::Where{path.text()};
}

Number given_number(double value, const units::Unit* unit) {
  return {value, unit != nullptr ? std::string(unit->symbol) : "", messages::digits_of(value)};
}

Error missing(const Place& place, std::span<const std::string> choices, std::string_view similar) {
  Arguments arguments = {{"similar", similar.empty() ? "none" : one_line(similar)}};
  add_range(arguments, place.range, place.unit, choices);
  return error("error.missing", place, std::move(arguments));
}

Error wrong_type(const Place& place,
                 const Json& given,
                 Wanted wanted,
                 std::span<const std::string> choices) {
  const std::string value = quote_json(given);
  if (place.meaning.empty()) return error("error.object", place, {{"value", value}});
  const bool number = wanted == Wanted::kNumber || wanted == Wanted::kInteger;
  Arguments arguments = {{"value", value},
                         {"wanted", number && given.is_string() ? "bare_number" : name_of(wanted)}};
  // A range of a list or a text is a size: it does not help who gave another type.
  add_range(arguments, number ? place.range : Range{}, place.unit, choices);
  return error("error.type", place, std::move(arguments));
}

Error out_of_range(const Place& place, double given) {
  Arguments arguments = {{"value", given_number(given, place.unit)}};
  add_range(arguments, place.range, place.unit);
  return error("error.range", place, std::move(arguments));
}

Error not_a_choice(const Place& place,
                   std::string_view given,
                   std::span<const std::string> choices) {
  const std::string similar = nearest(given, choices);
  return error("error.choice",
               place,
               {{"value", quote_text(given)},
                {"choices", joined(choices)},
                {"similar", similar.empty() ? "none" : quote_text(similar)}});
}

Error wrong_size(const Place& place, std::size_t count, Wanted what) {
  Arguments arguments = {{"count", given_number(static_cast<double>(count), nullptr)},
                         {"what", name_of(what)}};
  add_range(arguments, place.range, nullptr);
  return error("error.size", place, std::move(arguments));
}

Message unknown_field(const Path& parent,
                      std::string_view key,
                      std::span<const std::string_view> known,
                      bool kept) {
  const std::string similar = nearest(key, known);
  return {"warning.unknown_field",
          {{"path", path_argument(parent / key)},
           {"kept", kept ? "yes" : "no"},
           {"similar", similar.empty() ? "none" : similar}}};
}

}  // namespace drawoff::fields
