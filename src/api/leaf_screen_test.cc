#include "api/leaf_screen.h"

#include <gtest/gtest.h>

#include "api/question_test.h"

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
    // The mean lies between the ends; the wall is stronger than the raw water everywhere.
    EXPECT_LE(number_of(flux["level"], "at"), number_of(flux["points"].front(), "y"));
    EXPECT_GE(number_of(flux["level"], "at"), number_of(flux["points"].back(), "y"));
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
