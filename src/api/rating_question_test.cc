#include "api/rating_question.h"

#include <fmt/format.h>

#include "api/element_question.h"
#include "api/question_test.h"

namespace drawoff::api {
namespace {

constexpr Question kRating = question<RatingInput, RatingOutput, &ask_rating>("rating");
constexpr Question kElement = question<ElementInput, ElementOutput, &ask_element>("element");

// The membrane found, put on the plate's own test, gives the plate: to the tolerance of the
// inversion (1e-12 in the logarithm) times the slopes, and the 15 digits of the texts between.
TEST(RatingQuestion, gives_back_the_plate) {
  struct Plate {
    const char* size;
    double flow, rejection, pressure, salt, temperature, recovery;
  };
  for (const auto& plate : {Plate{"2012", 12, 95, 4.1, 250, 25, 15},
                            Plate{"2540", 105, 98.5, 7, 500, 20, 15},
                            Plate{"4040", 330, 99, 10, 2000, 30, 10}}) {
    for (const char* choice : {R"("mass_transfer_law": "joined")",
                               R"("mass_transfer_law": "schock_miquel", "mass_transfer": 1.3)",
                               R"("osmotic": "van_t_hoff", "mass_transfer": 0.6)"}) {
      SCOPED_TRACE(fmt::format("{} {}", plate.size, choice));
      const auto out =
          output_of(kRating,
                    fmt::format(R"({{"element": {{"size": "{}", "permeate_flow_L_h": {},
              "rejection_pct": {}, "test_pressure_bar": {}, "test_salt_mg_L": {},
              "test_temperature_C": {}, "test_recovery_pct": {}}}, {}}})",
                                plate.size,
                                plate.flow,
                                plate.rejection,
                                plate.pressure,
                                plate.salt,
                                plate.temperature,
                                plate.recovery,
                                choice));
      EXPECT_TRUE(out["assumed"].empty());
      EXPECT_NEAR(number_of(out, "flow_residual"), 0, 1e-12);
      EXPECT_NEAR(number_of(out, "passage_residual"), 0, 1e-12);
      EXPECT_GT(number_of(out, "polarisation"), 1);
      EXPECT_LT(number_of(out, "net_pressure_bar"), plate.pressure);
      const auto back =
          output_of(kElement,
                    fmt::format(R"({{"size": "{}", "water_permeability_L_m2_h_bar": {:.17g},
              "salt_permeability_L_m2_h": {:.17g}, "salt_mg_L": {}, "temperature_C": {},
              "feed_flow_L_h": {:.17g}, "feed_pressure_bar": {}, {}}})",
                                plate.size,
                                number_of(out, "water_permeability_L_m2_h_bar"),
                                number_of(out, "salt_permeability_L_m2_h"),
                                plate.salt,
                                plate.temperature,
                                plate.flow / plate.recovery * 100,
                                plate.pressure,
                                choice));
      EXPECT_NEAR(number_of(back, "permeate_flow_L_h") / plate.flow, 1, 1e-10);
      EXPECT_NEAR(number_of(back, "permeate_strength_pct") / (100 - plate.rejection), 1, 1e-10);
      EXPECT_NEAR(number_of(back, "flux_L_m2_h") / number_of(out, "flux_L_m2_h"), 1, 1e-10);
      EXPECT_NEAR(number_of(back, "polarisation") / number_of(out, "polarisation"), 1, 1e-10);
    }
  }
}

TEST(RatingQuestion, names_what_it_assumed) {
  const auto out = output_of(kRating, R"({"element": {"size": "2012", "permeate_flow_L_h": 12,
      "test_pressure_bar": 4.1, "test_temperature_C": 25}})");
  EXPECT_EQ(out["assumed"],
            fields::Json::array(
                {"element.rejection_pct", "element.test_salt_mg_L", "element.test_recovery_pct"}));
}

// A minimum rejection promises less than the typical element holds back.
TEST(RatingQuestion, minimum_rejection_means_a_tighter_membrane) {
  const auto salt = [](const char* kind) {
    return number_of(output_of(kRating,
                               fmt::format(R"({{"element": {{"size": "2012",
        "permeate_flow_L_h": 12, "rejection_pct": 95, "rejection_is": "{}",
        "test_pressure_bar": 4.1}}}})",
                                           kind)),
                     "salt_permeability_L_m2_h");
  };
  EXPECT_LT(salt("minimum"), 0.7 * salt("nominal"));
}

// 5 g/L of salt has 4 bar of osmotic pressure: no membrane makes fresh water from it at 0.5 bar.
TEST(RatingQuestion, contradicting_plate_is_named) {
  const auto sentence = error_of(kRating, R"({"element": {"size": "2012", "permeate_flow_L_h": 12,
      "rejection_pct": 97, "test_pressure_bar": 0.5, "test_salt_mg_L": 5000}})");
  EXPECT_NE(sentence.find("plate contradicts itself"), std::string::npos) << sentence;
}

}  // namespace
}  // namespace drawoff::api
