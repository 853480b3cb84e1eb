// The quick check: raw water, product, temperature, flow and the size of the element, and nothing
// else: is it right?
//
// It asks the same model as everything else, of a machine that is only known by its size: the
// usual plate of that size, an ordinary supply, pump and restrictor, each with the wide spread of
// what is not known (all common practice, no source). So its bands are wide, and honest; the plates
// make them narrow.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "machine/plates.h"
#include "visit/reading.h"
#include "visit/survey.h"

namespace drawoff::visit {

// Without a unit: ppm, °C or L/h, whichever fits.
struct QuickValue {
  std::optional<double> value;
  std::optional<ReadingUnit> unit;
};

struct QuickCheck {
  QuickValue raw;
  QuickValue product;
  QuickValue temperature;
  QuickValue product_flow;
  std::string size = "1812";
  int elements = 1;                                    // side by side
  std::optional<bool> pump;                            // usual for the size if absent
  water::MeterScale scale = water::MeterScale::kHalf;  // of the pen
};

// The unit of a value of the check, given or usual.
ReadingUnit unit_of(const QuickValue& value, machine::Point point);

// The check as what the rest of the model takes: a survey of a water known by its meter reading
// alone, a machine known by its size alone, and the readings that were given.
struct QuickCase {
  SurveyEntry survey;
  machine::MachineEntry machine;
  std::vector<ReadingEntry> readings;
};
// Needs the raw water; the check's table refuses it otherwise.
QuickCase quick_case(const QuickCheck& check);

}  // namespace drawoff::visit

namespace drawoff::fields {

// A value that was given fits its unit's range; see the check of QuickCheck.
template <>
struct Table<visit::QuickValue> {
  using T = visit::QuickValue;
  static constexpr std::string_view name = "quick_value";
  static constexpr auto list =
      std::make_tuple(field("value", &T::value, Range{-50, 1e6}), field("unit", &T::unit));
};

template <>
struct Table<visit::QuickCheck> {
  using T = visit::QuickCheck;
  static constexpr std::string_view name = "quick_check";
  static constexpr auto list = std::make_tuple(field("raw", &T::raw),
                                               field("product", &T::product),
                                               field("temperature", &T::temperature),
                                               field("product_flow", &T::product_flow),
                                               field("size", &T::size, Range{1, 12}),
                                               field("elements", &T::elements, Range{1, 6}),
                                               field("pump", &T::pump),
                                               field("scale", &T::scale));
  // Each value is what an instrument can show there, in a unit that fits; the raw water is given.
  static base::Result<base::Done> check(const T& check, const Path& path);
};

}  // namespace drawoff::fields
