#include "visit/verdict.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <set>

#include "messages/catalogue.h"
#include "visit/verdict_example_test.h"

namespace drawoff::visit {
namespace {

void set(SurveyEntry& survey, water::Species s, double mg_L) {
  survey.water.ions.constituents[water::index(s)] =
      water::measured(units::milligram_per_litre(mg_L));
}

// 50 mg/L as NO3: the value that WHO and the EU share (limits.csv of the reference folder).
TEST(Verdict, nitrate_over_the_limit_warrants_the_treatment) {
  const auto v = verdict_of(borehole_survey());
  EXPECT_EQ(v.warranted, Warranted::kYes);
  const auto* nitrate = find(v, "NO3");
  ASSERT_NE(nitrate, nullptr);
  EXPECT_NEAR(nitrate->raw / units::milligram_per_litre(1), 58, 1e-9);
  EXPECT_NEAR(nitrate->limit.value / units::milligram_per_litre(1), 50, 1e-12);
  EXPECT_EQ(nitrate->standing, Standing::kBroughtBelow);
  EXPECT_LT(nitrate->product_low, nitrate->product_high);
  EXPECT_TRUE(says(v.reasons, "verdict.reason.brought_below"));
}

// So much nitrate that a usual membrane may leave too much of it.
TEST(Verdict, doubts_where_the_product_may_stay_over) {
  auto survey = borehole_survey();
  set(survey, water::Species::NO3, 320);
  const auto v = verdict_of(survey);
  EXPECT_EQ(v.warranted, Warranted::kPartly);
  EXPECT_EQ(find(v, "NO3")->standing, Standing::kDoubtful);
}

// Arsenic(III) is uncharged and passes far more than arsenic(V): never judged as one.
TEST(Verdict, arsenic_of_two_forms_passes_unlike) {
  auto three = borehole_survey();
  auto five = borehole_survey();
  using water::Species;
  three.water.traces.constituents[water::index(Species::As3)] =
      water::measured(units::Density(40e-6));
  five.water.traces.constituents[water::index(Species::As5)] =
      water::measured(units::Density(40e-6));
  EXPECT_EQ(find(verdict_of(three), "As")->standing, Standing::kDoubtful);
  // As(V) alone: some of it may be As(III). With As(III) looked for and absent, it is not.
  const auto one_form = verdict_of(five);
  EXPECT_EQ(find(one_form, "As")->standing, Standing::kDoubtful);
  EXPECT_TRUE(says(one_form.reasons, "verdict.reason.arsenic_form"));
  five.water.traces.constituents[water::index(Species::As3)] = water::measured(units::Density(0));
  EXPECT_EQ(find(verdict_of(five), "As")->standing, Standing::kBroughtBelow);
}

// "Less than 19" says nothing about a limit of 10: it is not analysed well enough.
TEST(Verdict, a_bound_over_the_limit_is_not_a_clean_result) {
  auto survey = borehole_survey();
  set(survey, water::Species::NO3, 5);
  using water::Species;
  survey.water.traces.constituents[water::index(Species::As5)] =
      water::below(units::Density(19e-6));
  const auto v = verdict_of(survey);
  EXPECT_EQ(find(v, "As")->standing, Standing::kNotSeen);
  EXPECT_EQ(v.warranted, Warranted::kCannotSay);
  EXPECT_TRUE(says(v.reasons, "verdict.reason.not_seen"));
  EXPECT_NE(std::find(v.not_analysed.begin(), v.not_analysed.end(), "As"), v.not_analysed.end());
}

// 49.5 of 50 today is over on the year's strongest day.
TEST(Verdict, a_hair_below_the_limit_is_said) {
  auto survey = borehole_survey();
  set(survey, water::Species::NO3, 49.5);
  const auto v = verdict_of(survey);
  EXPECT_EQ(v.warranted, Warranted::kNear);
  EXPECT_EQ(find(v, "NO3")->standing, Standing::kNearLimit);
}

// Faecal indicators come before everything else, whatever the salts say.
TEST(Verdict, disinfection_comes_first) {
  auto survey = borehole_survey();
  set(survey, water::Species::NO3, 1);
  survey.faecal_indicators = FaecalIndicators::kPresent;
  const auto v = verdict_of(survey);
  EXPECT_EQ(v.warranted, Warranted::kDisinfectFirst);
  ASSERT_FALSE(v.pre_treatment.empty());
  EXPECT_EQ(v.pre_treatment.front().id, "verdict.front.disinfection");
  EXPECT_FALSE(says(v.reasons, "verdict.instead.carbon"));
  EXPECT_FALSE(says(v.reasons, "verdict.instead.softener"));
}

TEST(Verdict, soft_clean_water_needs_none_of_it) {
  auto survey = borehole_survey();
  survey.faecal_indicators = FaecalIndicators::kAbsent;
  for (const auto s : {water::Species::Ca,
                       water::Species::Mg,
                       water::Species::HCO3,
                       water::Species::NO3,
                       water::Species::Cl,
                       water::Species::SO4}) {
    set(survey, s, 5);
  }
  const auto v = verdict_of(survey);
  EXPECT_EQ(v.warranted, Warranted::kNo);
  EXPECT_TRUE(says(v.reasons, "verdict.instead.carbon"));
  EXPECT_FALSE(says(v.pre_treatment, "verdict.front.hard"));
}

TEST(Verdict, puts_carbon_before_the_membrane_wherever_chlorine_may_be) {
  auto survey = borehole_survey();
  EXPECT_FALSE(says(verdict_of(survey).pre_treatment, "verdict.front.carbon_unknown"));
  survey.source = SourceKind::kMains;
  EXPECT_TRUE(says(verdict_of(survey).pre_treatment, "verdict.front.carbon_unknown"));
  survey.free_chlorine = units::milligram_per_litre(0.4);
  EXPECT_TRUE(says(verdict_of(survey).pre_treatment, "verdict.front.carbon"));
  survey.free_chlorine = units::milligram_per_litre(0);
  EXPECT_FALSE(says(verdict_of(survey).pre_treatment, "verdict.front.carbon"));
}

// Whatever the dissolved solids: microbes are spoken of every time, and nothing is called safe.
TEST(Verdict, never_leaves_microbes_out_and_never_says_safe) {
  for (const auto f :
       {FaecalIndicators::kNotTested, FaecalIndicators::kAbsent, FaecalIndicators::kPresent}) {
    auto survey = borehole_survey();
    survey.faecal_indicators = f;
    const auto v = verdict_of(survey);
    const bool spoken =
        std::any_of(v.cautions.begin(), v.cautions.end(), [](const base::Message& m) {
          return m.id.rfind("verdict.caution.faecal_", 0) == 0;
        });
    EXPECT_TRUE(spoken);
    for (const auto* list : {&v.reasons, &v.pre_treatment, &v.cautions}) {
      for (const auto& m : *list) {
        const auto text = messages::render(messages::catalogue("en"), m);
        EXPECT_EQ(text.find(" safe"), std::string::npos) << text;
        EXPECT_EQ(text.find("{"), std::string::npos) << text;
      }
    }
  }
}

TEST(Limits, every_authority_has_nitrate_and_marks_what_is_from_memory) {
  for (const auto& choice : fields::EnumTable<Authority>::list) {
    const auto limits = limits_of(choice.name);
    ASSERT_FALSE(limits.empty()) << choice.name;
    std::set<std::string> seen;
    bool nitrate = false;
    for (const Limit& l : limits) {
      EXPECT_GT(l.value.si(), 0);
      EXPECT_FALSE(l.edition.empty());
      EXPECT_TRUE(seen.insert(l.substance).second) << l.substance;
      EXPECT_NE(messages::catalogue("en").find("substance." + l.substance), nullptr);
      nitrate |= l.substance == "NO3";
    }
    EXPECT_TRUE(nitrate);
  }
}

}  // namespace
}  // namespace drawoff::visit
