#include "machine/plates.h"

#include <gtest/gtest.h>

#include "fields/read.h"
#include "machine/example_entry_test.h"
#include "machine/plates_fields.h"
#include "machine/tolerances.h"
#include "membrane/sizes.h"

namespace drawoff::machine {
namespace {

PumpEntry pump(double open, double rated, double pressure, double bypass) {
  return {.open_flow = units::litre_per_hour(open),
          .rated_flow = units::litre_per_hour(rated),
          .rated_pressure = units::bar(pressure),
          .bypass_pressure = units::bar(bypass)};
}

TEST(Plates, a_pump_must_fall_from_its_open_flow) {
  using fields::Table;
  EXPECT_TRUE(Table<PumpEntry>::check(pump(400, 300, 5, 7), {}));
  const auto level = Table<PumpEntry>::check(pump(300, 300, 5, 7), {});
  ASSERT_FALSE(level);
  EXPECT_EQ(level.error().message.id, "error.pump.rated_flow");
  const auto early = Table<PumpEntry>::check(pump(400, 300, 5, 4), {});
  ASSERT_FALSE(early);
  EXPECT_EQ(early.error().message.id, "error.pump.bypass");
}

TEST(Plates, an_element_has_a_trade_size) {
  ElementEntry element = full_plates().element;
  EXPECT_TRUE(fields::Table<ElementEntry>::check(element, {}));
  element.size = "9999";
  EXPECT_FALSE(fields::Table<ElementEntry>::check(element, {}));
  for (const auto& size : membrane::element_sizes()) {
    element.size = size.name;
    EXPECT_TRUE(fields::Table<ElementEntry>::check(element, {}));
  }
}

TEST(Plates, what_is_assumed_is_named) {
  EXPECT_TRUE(assumed(full_plates()).empty());
  EXPECT_EQ(assumed(bare_plates()).size(), 4U);
  MachineEntry entry = full_plates();
  entry.element.rejection.reset();
  EXPECT_EQ(assumed(entry), std::vector<std::string>{"element.rejection_pct"});
}

TEST(Tolerances, are_the_rows_of_the_table) {
  EXPECT_EQ(tolerance("rejection_minimum_ratio"), 0.60);
  EXPECT_DEATH(tolerance("no_such_row"), "CHECK");
}

}  // namespace
}  // namespace drawoff::machine
