#include "visit/shares_read.h"

#include <gtest/gtest.h>

#include "visit/example_test.h"

namespace drawoff::visit {
namespace {

using machine::Point;

SharesRead read(std::vector<ReadingEntry> readings,
                const machine::MachineEntry& entry = wall_unit_entry()) {
  const auto s = judge_start_up(borehole_survey(), entry, readings, {.draws = 100});
  EXPECT_TRUE(s);
  return shares_read(*s);
}

TEST(SharesRead, recovery_is_the_share_of_both_flows) {
  const auto shares = read({reading(Point::kProductFlow, 60, ReadingUnit::kLh),
                            reading(Point::kRejectFlow, 180, ReadingUnit::kLh)});
  ASSERT_TRUE(shares.recovery);
  EXPECT_NEAR(*shares.recovery, 0.25, 1e-12);
  EXPECT_FALSE(shares.reduction_ppm);
  EXPECT_FALSE(read({reading(Point::kProductFlow, 60, ReadingUnit::kLh)}).recovery);
}

// 1000 to 50 is 95 % by the meter; by mass it is another number, near it.
TEST(SharesRead, reduction_by_meter_is_not_by_mass) {
  const auto shares = read({reading(Point::kRawQuality, 1000, ReadingUnit::kMicrosiemens),
                            reading(Point::kProductQuality, 50, ReadingUnit::kMicrosiemens)});
  ASSERT_TRUE(shares.reduction_ppm && shares.reduction_mass);
  EXPECT_NEAR(*shares.reduction_ppm, 0.95, 1e-9);
  EXPECT_NE(*shares.reduction_mass, *shares.reduction_ppm);
  EXPECT_NEAR(*shares.reduction_mass, 0.95, 0.03);
}

// Raw water in the product is no permeate: of 100 L/h with a tenth of raw water 90 passed the
// membrane. Without a reading before the blend nobody knows.
TEST(SharesRead, a_blend_counts_for_nothing_in_the_recovery) {
  auto entry = wall_unit_entry();
  entry.blend = machine::BlendEntry{.full_open_flow = units::litre_per_hour(100), .opening = 0.05};
  std::vector<ReadingEntry> readings{
      reading(Point::kProductFlow, 100, ReadingUnit::kLh),
      reading(Point::kRejectFlow, 270, ReadingUnit::kLh),
      reading(Point::kRawQuality, 1050, ReadingUnit::kMicrosiemens),
      reading(Point::kProductQuality, 150, ReadingUnit::kMicrosiemens)};
  EXPECT_FALSE(read(readings, entry).recovery);
  readings.push_back(reading(Point::kPermeateQuality, 50, ReadingUnit::kMicrosiemens));
  readings.back().condition.blend = machine::BlendState::kShut;  // as it usually is read
  const auto shares = read(readings, entry);
  ASSERT_TRUE(shares.recovery);
  EXPECT_NEAR(*shares.recovery, 90.0 / 360, 1e-9);
}

}  // namespace
}  // namespace drawoff::visit
