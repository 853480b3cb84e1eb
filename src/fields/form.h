// A form, made from a field table: what to ask, in which unit, with which default; and the way back
// from what a person typed to the JSON that read.h reads.
//
//   Form f = form<Machine>(body, UnitSystem::kUs, words);
//   Filled done = fill<Machine>(body, {{{"restrictor.flow_mL_min", "3,5"}}}, UnitSystem::kUs,
//   words);
//
// Nothing typed can spoil the rest: what is faulty stays out of the body and has its sentence,
// beside its own field. A body may be incomplete; what is still needed is listed, not refused.
//
// Every field that a table offers (not kNotAsked) has a short label in the catalogue under
// "label.<table>.<key>", and every value of an enum under "choice.<enum>.<value>".
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "fields/field.h"
#include "fields/json.h"
#include "messages/catalogue.h"

namespace drawoff::fields {

// Whose units a form shows. Files keep the unit of their key.
enum class UnitSystem { kMetric, kUs };

enum class FormKind {
  kNumber,
  kBound,   // a number, or "<" and a number: below what could be seen
  kChoice,  // one of `choices`
  kText,
  kFlag,  // "true" or "false"
  kPart,  // an optional part of the whole: "true" if it is there
  kList,  // its entries follow; "add" appends one, and "remove" typed into an entry takes it away
  kEntry  // an entry of a list
};

struct FormChoice {
  std::string value;
  std::string label;
};

struct FormField {
  std::string path;  // "element.permeate_flow_L_h", "filters[0].kind"
  FormKind kind = FormKind::kNumber;
  std::string label;
  std::string group;  // label of the struct that it belongs to; empty at the root
  std::string part;   // path of the optional part or entry it belongs to; empty if none
  std::string unit;   // symbol of the unit it is shown in; empty if none
  std::vector<FormChoice> choices;
  bool required = false;
  std::string shown;    // what the body holds, as a person would type it; empty if nothing
  std::string usually;  // what holds if nothing is typed; empty if nothing does
  bool rare = false;    // kPart: few have it; asked after what most have
  bool front = false;   // asked beside what is required: one of a few that must be given
};

enum class FormErrorKind { kFault, kMissing };
struct FormError {
  std::string path;
  FormErrorKind kind = FormErrorKind::kFault;
  std::string sentence;
};

struct Form {
  std::vector<FormField> fields;
  std::vector<FormError> errors;  // of the body: what is missing, what contradicts itself
};

struct Typed {
  std::string path;
  std::string text;  // "" takes the value away
};

struct Filled {
  Json body;
  std::vector<FormError> errors;
};

namespace detail {
Form form_of(const Object& object,
             const Json& body,
             UnitSystem system,
             const messages::Catalogue& words);
Filled fill_of(const Object& object,
               const Json& body,
               std::span<const Typed> typed,
               UnitSystem system,
               const messages::Catalogue& words);
}  // namespace detail

template <class T>
Form form(const Json& body, UnitSystem system, const messages::Catalogue& words) {
  return detail::form_of(detail::ObjectOf<T>::value, body, system, words);
}

template <class T>
Filled fill(const Json& body,
            std::span<const Typed> typed,
            UnitSystem system,
            const messages::Catalogue& words) {
  return detail::fill_of(detail::ObjectOf<T>::value, body, typed, system, words);
}

// The unit in which a value kept in `unit` is shown.
const units::Unit* shown_unit(const units::Unit* unit, UnitSystem system);
// A number kept in `unit`, as it would be typed in the unit shown, with the decimal mark of the
// language and without grouping; and back, whatever the language, none if the text is no number.
std::string shown_number(double value,
                         const units::Unit* unit,
                         UnitSystem system,
                         std::string_view language);
std::optional<double> typed_number(std::string_view text,
                                   const units::Unit* unit,
                                   UnitSystem system);

}  // namespace drawoff::fields
