// A message: what is to be said to a person, before it is put into words.
//
// The engine never writes sentences. It returns an id and named, typed arguments; the catalogue in
// data/messages/ holds the words of each language, and messages/render.h joins the two.
//
//   Message{"restrictor.worn", {{"flow", Number{1.2, "L/h"}}, {"part", Ref{"part.restrictor"}}}}
#pragma once

#include <string>
#include <utility>
#include <variant>
#include <vector>

namespace drawoff::base {

// A number with the unit symbol it is shown in ("" for none), and how many significant digits.
struct Number {
  double value = 0;
  std::string unit;
  int digits = 3;
  bool operator==(const Number&) const = default;
};

// Another entry of the catalogue, by id: a part's name, a field's label.
struct Ref {
  std::string id;
  bool operator==(const Ref&) const = default;
};

// Where a value stands: its path in a file ("checks[0].standard_uS_cm"). A form says the label of
// the field instead (fields/form.h).
struct Where {
  std::string path;
  bool operator==(const Where&) const = default;
};

// Plain text is for what a person typed or named (a site, a key of a file): never translated.
using Argument = std::variant<std::string, Number, Ref, Where>;

struct Message {
  std::string id;
  std::vector<std::pair<std::string, Argument>> arguments = {};
  bool operator==(const Message&) const = default;
};

}  // namespace drawoff::base
