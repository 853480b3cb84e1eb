#include "visit/questioned.h"

#include <gtest/gtest.h>

#include "messages/catalogue.h"
#include "visit/example_test.h"

namespace drawoff::visit {
namespace {

using machine::Point;

std::string id_of(const std::optional<base::Message>& m) {
  if (!m) return "";
  EXPECT_NE(messages::catalogue("en").find(m->id), nullptr) << m->id;
  return m->id;
}

constexpr inference::Interval kBand{30, 40, 55};

TEST(Questioned, a_gauge_cannot_show_more_than_its_scale) {
  ReadingEntry r = reading(Point::kMembranePressure, 14, ReadingUnit::kBar);
  EXPECT_EQ(id_of(questioned(r, std::nullopt, {})), "");
  r.instrument.full_scale = 10;
  EXPECT_EQ(id_of(questioned(r, std::nullopt, {})), "reading.question.beyond_gauge");
  r.value = 9.5;
  EXPECT_EQ(id_of(questioned(r, std::nullopt, {})), "");
}

TEST(Questioned, a_product_is_not_saltier_than_its_raw_water) {
  // 480 ppm on the half scale are 960 µS/cm.
  const ReadingEntry r = reading(Point::kProductQuality, 480, ReadingUnit::kPpm);
  EXPECT_EQ(id_of(questioned(r, std::nullopt, 0.09)), "reading.question.as_raw");
  EXPECT_EQ(id_of(questioned(r, std::nullopt, 0.11)), "");
  const ReadingEntry raw = reading(Point::kRawQuality, 480, ReadingUnit::kPpm);
  EXPECT_EQ(id_of(questioned(raw, std::nullopt, 0.09)), "");
}

TEST(Questioned, ten_times_and_a_tenth) {
  const auto said = [](double value) {
    return id_of(questioned(reading(Point::kProductFlow, value, ReadingUnit::kLh), kBand, {}));
  };
  EXPECT_EQ(said(40), "");
  EXPECT_EQ(said(54), "");
  EXPECT_EQ(said(400), "reading.question.ten_times");
  EXPECT_EQ(said(4.1), "reading.question.a_tenth");
  EXPECT_EQ(said(12), "");  // a fault, not a slip
  EXPECT_EQ(said(100), "");
}

// 0.08 S/m at 25 °C is 800 µS/cm, or 400 ppm on the half scale.
TEST(Questioned, a_raw_water_beside_its_survey) {
  const auto said = [](double value, ReadingUnit unit) {
    const ReadingEntry r = reading(Point::kRawQuality, value, unit);
    return id_of(questioned(r, as_shown({0.06, 0.08, 0.1}, r), {}));
  };
  EXPECT_EQ(said(400, ReadingUnit::kPpm), "");
  EXPECT_EQ(said(560, ReadingUnit::kPpm), "");
  EXPECT_EQ(said(40, ReadingUnit::kPpm), "reading.question.a_tenth");
  EXPECT_EQ(said(4000, ReadingUnit::kPpm), "reading.question.ten_times");
  EXPECT_EQ(said(800, ReadingUnit::kPpm), "reading.question.other_unit");
  EXPECT_EQ(said(150, ReadingUnit::kPpm), "");
  for (const double other : {4.0, 15.0, 100.0, 1500.0, 20000.0}) {
    EXPECT_EQ(said(other, ReadingUnit::kPpm), "reading.question.other_water") << other;
  }
}

// 80 where 40 ppm were expected: it is the number of the µS/cm.
TEST(Questioned, the_meters_other_unit) {
  EXPECT_EQ(id_of(questioned(reading(Point::kProductQuality, 80, ReadingUnit::kPpm), kBand, {})),
            "reading.question.other_unit");
  EXPECT_EQ(
      id_of(questioned(reading(Point::kProductQuality, 20, ReadingUnit::kMicrosiemens), kBand, {})),
      "reading.question.other_unit");
  EXPECT_EQ(id_of(questioned(reading(Point::kProductQuality, 150, ReadingUnit::kPpm), kBand, {})),
            "");
}

// Kept if the person insists: the entry takes it, and it is never judged.
TEST(Questioned, a_flow_below_nothing_and_no_reject) {
  const auto backwards = reading(Point::kProductFlow, -12, ReadingUnit::kLh);
  EXPECT_EQ(id_of(questioned(backwards, std::nullopt, {})), "reading.question.below_nothing");
  EXPECT_TRUE(fields::Table<ReadingEntry>::check(backwards, {}));
  const auto none = reading(Point::kRejectFlow, 0, ReadingUnit::kLh);
  EXPECT_EQ(id_of(questioned(none, std::nullopt, {})), "reading.question.no_reject");
  EXPECT_EQ(id_of(questioned(reading(Point::kProductFlow, 0, ReadingUnit::kLh), std::nullopt, {})),
            "");
}

}  // namespace
}  // namespace drawoff::visit
