// What a described struct looks like from outside: JSON Schema 2020-12 [jsonschema2020] for
// programs, help for people, and the message ids that the catalogue must hold.
//
//   Json s = schema<Machine>(messages::catalogue("en"));
//   for (const HelpLine& line : help<Machine>()) …
//   for (const std::string& id : message_ids<Machine>()) EXPECT_NE(catalogue.find(id), nullptr);
//
// Structs within structs are described once, under $defs, by the name of their table. "x-unit" is
// the UCUM code of a number's unit. Unknown keys are allowed: they are kept and warned of.
#pragma once

#include <string>
#include <vector>

#include "fields/field.h"
#include "fields/json.h"
#include "messages/catalogue.h"

namespace drawoff::fields {

// One field, also of the structs within: "restrictor.flow_mL_min", "elements[].area_m2".
struct HelpLine {
  std::string key;
  std::string unit;           // symbol, empty if none
  Range range;                // of a list, of its entries if these are numbers
  std::string default_value;  // as JSON, empty if none
  bool required = false;
  bool asked = true;
  std::vector<std::string> choices;
  std::string meaning;  // message id
};

namespace detail {
Json schema_of(const Object& object, const messages::Catalogue& catalogue);
std::vector<HelpLine> help_of(const Object& object);
std::vector<std::string> message_ids_of(const Object& object);
}  // namespace detail

template <class T>
Json schema(const messages::Catalogue& catalogue) {
  return detail::schema_of(detail::ObjectOf<T>::value, catalogue);
}

template <class T>
std::vector<HelpLine> help() {
  return detail::help_of(detail::ObjectOf<T>::value);
}

// The meaning of every field of T and of the structs within it.
template <class T>
std::vector<std::string> message_ids() {
  return detail::message_ids_of(detail::ObjectOf<T>::value);
}

}  // namespace drawoff::fields
