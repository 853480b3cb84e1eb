#include "api/leaf_screen.h"

#include <gtest/gtest.h>

#include "api/path_view.h"
#include "api/question_test.h"
#include "api/solved.h"
#include "membrane/collocation.h"

namespace drawoff::api {
namespace {

using fields::Json;

constexpr auto kLeaf = question<LeafInput, LeafOutput, &ask_leaf>("leaf");

Json told(const Json& site_file) { return output_of(kLeaf, Json{{"site_file", site_file}}.dump()); }

TEST(LeafScreen, flux_falls_and_the_wall_grows_stronger) {
  for (const char* name : {"school", "clinic", "office"}) {
    SCOPED_TRACE(name);
    const Json out = told(example_site(name));
    const Json& flux = out["flux"];
    const Json& wall = out["wall"];
    ASSERT_FALSE(flux.is_null());
    ASSERT_GE(flux["points"].size(), 3U);
    ASSERT_EQ(flux["points"].size(), wall["points"].size());
    for (std::size_t i = 1; i < flux["points"].size(); ++i) {
      EXPECT_GT(number_of(flux["points"][i], "x"), number_of(flux["points"][i - 1], "x"));
      EXPECT_LE(number_of(flux["points"][i], "y"), number_of(flux["points"][i - 1], "y"));
      EXPECT_GT(number_of(wall["points"][i], "y"), number_of(wall["points"][i - 1], "y"));
    }
    EXPECT_EQ(number_of(flux["points"].front(), "x"), 0);
    EXPECT_EQ(number_of(flux["points"].back(), "x"), 1);
    // The level is the mean of what is drawn, the Gauss points of one element between its ends.
    double mean = 0;
    for (std::size_t k = 0; k < 3; ++k) {
      mean += membrane::kWeight[k] * number_of(flux["points"][k + 1], "y");
    }
    EXPECT_NEAR(number_of(flux["level"], "at") / mean, 1, 1e-12);  // rounding
    // The wall is stronger than the raw water everywhere.
    EXPECT_GT(number_of(wall["points"].front(), "y"), number_of(wall["level"], "at"));
    EXPECT_LE(number_of(wall["points"].back(), "y"), 1);
    for (const Json& curve : {flux, wall}) {
      for (const Json& said : {curve["said"],
                               curve["up_label"],
                               curve["across_label"],
                               curve["level"]["text"],
                               curve["across"][0]["text"],
                               curve["across"][1]["text"]}) {
        const std::string words = fields::dump(said);
        // A missing id shows as itself, a missing argument as its braces.
        EXPECT_EQ(words.find("leaf."), std::string::npos) << words;
        EXPECT_EQ(words.find('{'), std::string::npos) << words;
      }
    }
  }
}

// The machine and the water that the site's own screen shows: the readings of the day move it.
TEST(LeafScreen, is_of_the_machine_as_the_site_shows_it) {
  Json school = example_site("school");
  const Json cold = told(school);
  for (Json& entry : school["entries"]) {
    if (entry["body"].value("point", "") == "temperature") entry["body"]["value"] = 25.0;
  }
  const Json warm = told(school);
  EXPECT_NE(cold["flux"]["level"]["text"], warm["flux"]["level"]["text"]);
  fields::ReadContext context;
  const auto file = book::read_site_json(school, context);
  ASSERT_TRUE(file);
  const auto state = site_state(*file, context);
  ASSERT_TRUE(state);
  const auto solved = solve(*state, {.draws = 50});
  ASSERT_TRUE(solved);
  const auto& words = messages::catalogue("en");
  const auto mean = in_units(solved->start_up.median.flux, "L_m2_h", fields::UnitSystem::kMetric);
  EXPECT_EQ(warm["flux"]["level"]["text"],
            messages::render(words, {"leaf.mean", {{"value", mean}}}));
}

TEST(LeafScreen, marks_where_one_membrane_ends_and_the_next_begins) {
  Json school = example_site("school");
  body_of(school, "machine")["element"]["in_series"] = 2;
  const Json out = told(school);
  for (const char* name : {"flux", "wall"}) {
    const Json& across = out[name]["across"];
    ASSERT_EQ(across.size(), 3U);
    EXPECT_EQ(number_of(across[1], "at"), 0.5);
    const Json& points = out[name]["points"];
    ASSERT_EQ(points.size(), 10U);
    EXPECT_EQ(points[4], points[5]);
    EXPECT_EQ(number_of(points[4], "x"), 0.5);
    EXPECT_NE(fields::dump(out[name]["across_label"]).find("2 membranes"), std::string::npos);
  }
}

TEST(LeafScreen, a_machine_that_gives_nothing_has_none) {
  Json school = example_site("school");
  body_of(school, "machine")["supply"]["pressure_bar"] = 0;
  body_of(school, "machine").erase("pump");
  const Json out = told(school);
  EXPECT_TRUE(out["flux"].is_null());
  EXPECT_TRUE(out["wall"].is_null());
}

}  // namespace
}  // namespace drawoff::api
