// The example that the tests of this folder read, write and describe: a small machine, with every
// kind of member. It is also how to declare one: copy from here.
#pragma once

#include <array>
#include <cmath>
#include <optional>
#include <string>
#include <tuple>
#include <vector>

#include "fields/errors.h"
#include "fields/field.h"
#include "fields/json.h"
#include "fields/read.h"
#include "messages/catalogue.h"
#include "units/quantity.h"

namespace drawoff::example {

enum class Kind { kCapillary, kOrifice, kNeedle };

struct Restrictor {
  units::VolumeFlow flow;
  units::Pressure pressure = units::bar(6);
  Kind kind = Kind::kCapillary;
  double tolerance = 0.15;  // fraction

  bool operator==(const Restrictor&) const = default;
};

struct Element {
  units::Area area;
  std::optional<units::Pressure> back_pressure;
  fields::Json unknown;

  bool operator==(const Element&) const = default;
};

// A type with its own form in JSON: {"low": …, "high": …} in the unit of the key.
struct Span {
  double low = 0;
  double high = 0;
  bool operator==(const Span&) const = default;
};

struct Machine {
  std::string name;
  units::Temperature temperature = units::celsius(25);
  Restrictor restrictor;
  std::vector<Element> elements;
  std::vector<units::Length> heights;
  int persons = 1;
  bool has_pump = false;
  std::optional<double> ph;
  std::optional<Restrictor> second;
  Span expected;
  fields::Json unknown;

  bool operator==(const Machine&) const = default;
};

}  // namespace drawoff::example

namespace drawoff {

template <>
struct fields::EnumTable<example::Kind> {
  static constexpr std::string_view name = "example_kind";
  static constexpr std::array list = {choice(example::Kind::kCapillary, "capillary"),
                                      choice(example::Kind::kOrifice, "orifice"),
                                      choice(example::Kind::kNeedle, "needle")};
};

template <>
struct fields::Table<example::Restrictor> {
  using T = example::Restrictor;
  static constexpr std::string_view name = "example_restrictor";
  static constexpr auto list =
      std::make_tuple(field("flow_mL_min", &T::flow, Range{1, 20000}, kRequired),
                      field("pressure_bar", &T::pressure, Range{0.5, 16}),
                      field("kind", &T::kind),
                      field("tolerance_pct", &T::tolerance, Range{0, 50}, kNotAsked));
};

template <>
struct fields::Table<example::Element> {
  using T = example::Element;
  static constexpr std::string_view name = "example_element";
  static constexpr auto list =
      std::make_tuple(field("area_m2", &T::area, at_least(0.05), kRequired),
                      field("back_pressure_kPa", &T::back_pressure, Range{0, 400}));
  static constexpr auto unknown = &T::unknown;
};

template <>
struct fields::Codec<example::Span> {
  static base::Result<example::Span> read(const Json& json,
                                          const Place& place,
                                          ReadContext& /*context*/) {
    example::Span out;
    for (auto [key, number] : {std::pair("low", &out.low), std::pair("high", &out.high)}) {
      Place at = place;
      at.path = place.path / key;
      if (!json.is_object()) return wrong_type(place, json, Wanted::kObject);
      const auto found = json.find(key);
      if (found == json.end()) return missing(at);
      const auto* value = found->get_ptr<const Json::number_float_t*>();
      const auto* whole = found->get_ptr<const Json::number_integer_t*>();
      if (value == nullptr && whole == nullptr) return wrong_type(at, *found, Wanted::kNumber);
      *number = value != nullptr ? *value : static_cast<double>(*whole);
    }
    return out;
  }
  static Json write(const example::Span& span, const units::Unit* /*unit*/) {
    return {{"low", json_number(span.low)}, {"high", json_number(span.high)}};
  }
  static Json schema(const units::Unit* unit) {
    return {{"type", "object"}, {"x-unit", unit != nullptr ? std::string(unit->ucum) : ""}};
  }
};

template <>
struct fields::Table<example::Machine> {
  using T = example::Machine;
  static constexpr std::string_view name = "example_machine";
  static constexpr auto list =
      std::make_tuple(field("name", &T::name, Range{1, 80}, kRequired),
                      field("temperature_C", &T::temperature, Range{0, 60}),
                      field("restrictor", &T::restrictor),
                      field("elements", &T::elements, Range{1, 12}, kRequired),
                      field("heights_m", &T::heights, at_most(3), Each{-10, 50}),
                      field("persons", &T::persons, at_least(0)),
                      field("has_pump", &T::has_pump),
                      field("pH", &T::ph, Range{0, 14}, kNullWhenAbsent),
                      field("second_restrictor", &T::second),
                      field("expected_ppm", &T::expected, kNotAsked));
  static constexpr auto unknown = &T::unknown;

  static base::Result<base::Done> check(const T& machine, const Path& path) {
    if (machine.has_pump && machine.persons == 0) {
      return base::Error{base::ErrorKind::kData,
                         {"example.pump_for_nobody", {{"path", path_argument(path / "persons")}}}};
    }
    return base::Done{};
  }
};

namespace example {

// The catalogue of the engine with the example's own entries.
inline const messages::Catalogue& catalogue() {
  static const messages::Catalogue kAll = [] {
    messages::Catalogue out(R"({
      "example.pump_for_nobody": "{path} is 0, yet there is a pump. Enter who drinks, or no pump.",
      "field.example_element.area_m2": "the membrane area of the element",
      "field.example_element.back_pressure_kPa": "the pressure on the product side",
      "field.example_machine.elements": "the membrane elements, first the one fed first",
      "field.example_machine.expected_ppm": "the reading to be expected, low and high",
      "field.example_machine.has_pump": "whether the unit has a pump",
      "field.example_machine.heights_m": "the heights of the coolers above the unit",
      "field.example_machine.name": "the name of the site",
      "field.example_machine.pH": "the pH of the raw water",
      "field.example_machine.persons": "the number of people who drink here",
      "field.example_machine.restrictor": "the restrictor of the reject",
      "field.example_machine.second_restrictor": "the restrictor behind the flush valve",
      "field.example_machine.temperature_C": "the temperature of the raw water",
      "field.example_restrictor.flow_mL_min": "the flow printed on the restrictor",
      "field.example_restrictor.kind": "the kind of restrictor",
      "field.example_restrictor.pressure_bar": "the pressure at which that flow holds",
      "field.example_restrictor.tolerance_pct": "the tolerance of that flow"
    })",
                            "en");
    out.add(messages::catalogue("en"));
    return out;
  }();
  return kAll;
}

}  // namespace example

}  // namespace drawoff
