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
  entry = full_plates();
  entry.pump->voltage = units::volt(22);
  entry.flush_valve = FlushValveEntry{.flow = units::litre_per_hour(300)};
  EXPECT_EQ(assumed(entry),
            (std::vector<std::string>{"pump.plate_voltage_V", "flush_valve.pressure_bar"}));
}

std::string fault_of(const MachineEntry& entry) {
  const auto checked = fields::Table<MachineEntry>::check(entry, {});
  return checked ? "" : std::string(checked.error().message.id);
}

TEST(Plates, machines_that_contradict_themselves_are_named) {
  using units::bar;
  const MachineEntry sound = full_plates();
  EXPECT_EQ(fault_of(sound), "");
  auto changed = [&](auto&& change) {
    MachineEntry entry = sound;
    change(entry);
    return fault_of(entry);
  };
  EXPECT_EQ(changed([](auto& e) {
              e.pump.reset();
              e.recirculation = RecirculationEntry{.full_open_flow = units::litre_per_hour(50)};
            }),
            "error.recirculation.pump");
  EXPECT_EQ(changed([](auto& e) {
              e.pump.reset();
              e.blend->from = BlendFrom::kPressurised;
            }),
            "error.blend.pump");
  EXPECT_EQ(changed([](auto& e) { e.blend->from = BlendFrom::kAfterSolenoid; }),
            "error.blend.solenoid");
  EXPECT_EQ(changed([](auto& e) {
              e.pump.reset();
              e.low_pressure_switch = SwitchEntry{.cut_out = bar(0.3), .cut_in = bar(0.6)};
            }),
            "error.low_pressure_switch.pump");
  EXPECT_EQ(changed([](auto& e) {
              e.low_pressure_switch = SwitchEntry{.cut_out = bar(0.6), .cut_in = bar(0.3)};
            }),
            "error.low_pressure_switch.order");
  auto high = [&](double cut_out, double cut_in) {
    return changed([&](auto& e) {
      e.high_pressure_switch = SwitchEntry{.cut_out = bar(cut_out), .cut_in = bar(cut_in)};
    });
  };
  EXPECT_EQ(high(3, 2), "");
  EXPECT_EQ(high(2, 3), "error.high_pressure_switch.order");
  EXPECT_EQ(high(12.5, 2), "error.high_pressure_switch.housing");
  // Supply 3 bar and pump 7 bar, the bypass a tenth more: 10.7 bar.
  EXPECT_EQ(high(10.6, 2), "");
  EXPECT_EQ(high(10.8, 2), "error.high_pressure_switch.reach");
  EXPECT_EQ(changed([](auto& e) {
              e.hydraulic_shut_off = HydraulicShutOffEntry{.closes_at = 0.5, .opens_at = 0.5};
            }),
            "error.hydraulic_shut_off.order");
  // 10 m of water are 0.98 bar.
  auto tank = [&](double set) {
    return changed([&](auto& e) {
      e.raw_tank = RawTankEntry{.volume = units::litre(200), .level = units::metre(10)};
      e.regulator = RegulatorEntry{.set_pressure = bar(set)};
    });
  };
  auto charged = [&](double pressure) {
    return changed([&](auto& e) {
      e.product.vessel = ProductVessel::kTank;
      e.product.precharge = bar(pressure);
    });
  };
  EXPECT_EQ(charged(10.6), "");
  EXPECT_EQ(charged(10.8), "error.product.precharge");
  EXPECT_EQ(tank(0.9), "");
  EXPECT_EQ(tank(1.0), "error.regulator.raw_tank");
}

TEST(Plates, no_more_positions_than_elements) {
  ElementEntry element = full_plates().element;
  element.positions.resize(1);
  EXPECT_TRUE(fields::Table<ElementEntry>::check(element, {}));
  element.positions.resize(2);
  EXPECT_FALSE(fields::Table<ElementEntry>::check(element, {}));
  element.in_series = 2;
  EXPECT_TRUE(fields::Table<ElementEntry>::check(element, {}));
  element.in_series = 1;
  element.in_parallel = 2;
  EXPECT_TRUE(fields::Table<ElementEntry>::check(element, {}));
}

TEST(Plates, a_multistage_pump_gives_most_at_no_flow) {
  PumpEntry level = pump(400, 300, 5, 5);
  EXPECT_TRUE(fields::Table<PumpEntry>::check(level, {}));
  level.kind = PumpKind::kMultistage;
  EXPECT_FALSE(fields::Table<PumpEntry>::check(level, {}));
}

TEST(Tolerances, are_the_rows_of_the_table) {
  EXPECT_EQ(tolerance("rejection_minimum_ratio"), 0.60);
  EXPECT_DEATH(tolerance("no_such_row"), "CHECK");
}

}  // namespace
}  // namespace drawoff::machine
