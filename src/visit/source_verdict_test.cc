// What the verdict says beyond the limits: evidence, seasons, microbes, what stands in front and
// behind, the reject.
#include <gtest/gtest.h>

#include <algorithm>

#include "messages/catalogue.h"
#include "visit/date.h"
#include "visit/verdict_example_test.h"
#include "water/saturation.h"

namespace drawoff::visit {
namespace {

using units::milligram_per_litre;
using water::Species;

void set(water::AnalysisEntry& water, Species s, const water::Constituent& amount) {
  (s >= Species::As3 ? water.traces.constituents : water.ions.constituents)[water::index(s)] =
      amount;
}
void set(water::AnalysisEntry& water, Species s, double mg_L) {
  set(water, s, water::measured(milligram_per_litre(mg_L)));
}

TEST(Date, days_between_two) {
  EXPECT_EQ(days_between("2026-01-01", "2026-12-31"), 364);
  EXPECT_EQ(days_between("2024-02-28", "2024-03-01"), 2);  // a leap year
  EXPECT_EQ(days_between("2026-03", "2026-03-15"), 14);
  EXPECT_EQ(days_between("2026-03-15", "2026-03-01"), -14);
  EXPECT_EQ(days_between("", "2026-03-01"), std::nullopt);
  EXPECT_FALSE(is_date("2026-02-30"));
  EXPECT_FALSE(is_date("26-02-03"));
}

// ---- Evidence -----------------------------------------------------------------------------------

TEST(Evidence, best_first) {
  auto survey = borehole_survey();
  EXPECT_EQ(find(verdict_of(survey), "NO3")->evidence, Evidence::kLaboratory);
  survey.analysed_by = AnalysedBy::kSupplier;
  EXPECT_EQ(find(verdict_of(survey), "NO3")->evidence, Evidence::kSupplier);
  EXPECT_TRUE(says(verdict_of(survey).cautions, "verdict.caution.supplier"));
  EXPECT_EQ(find(verdict_of(survey), "As"), nullptr);
  survey.local = LocalProfile{.name = "the district"};
  survey.local->usual = {{"As", units::Density(30e-6)}};
  const auto v = verdict_of(survey);
  EXPECT_EQ(find(v, "As")->evidence, Evidence::kLocal);
  EXPECT_FALSE(find(v, "As")->below);
  EXPECT_TRUE(says(v.reasons, "verdict.reason.usual"));
  // That it may be there is no analysis of it.
  EXPECT_NE(std::find(v.not_analysed.begin(), v.not_analysed.end(), "As"), v.not_analysed.end());
}

// Charges that do not balance move what is judged; what the laboratory wrote stays what it wrote.
TEST(Evidence, a_number_of_the_laboratory_is_said_as_it_gave_it) {
  auto survey = borehole_survey();
  set(survey.water, Species::NO3, 96);
  set(survey.water, Species::F, 0.6);
  set(survey.water, Species::Fe, water::below(milligram_per_litre(0.05)));
  auto water = surveyed_water(survey);
  ASSERT_TRUE(water);
  water::Composition day = water->composition;
  for (const Species s : {Species::NO3, Species::F, Species::Fe}) {
    day[s] = 0.9 * day[s];
  }
  const auto judged = [&](const water::Composition& composition) {
    auto all = judged_water(*water, water->composition, {});
    all.members = {composition};
    const auto v = source_verdict(survey, all);
    EXPECT_TRUE(v);
    return *v;
  };
  const auto v = judged(day);
  for (const char* key : {"NO3", "F", "Fe"}) ASSERT_NE(find(v, key), nullptr) << key;
  EXPECT_NEAR(find(v, "NO3")->stated->si(), 0.096, 1e-12);
  EXPECT_NEAR(find(v, "F")->stated->si(), 0.6e-3, 1e-12);
  EXPECT_NEAR(find(v, "Fe")->stated->si(), 0.025e-3, 1e-12);  // half its bound
  EXPECT_TRUE(find(v, "Fe")->below);
  EXPECT_TRUE(was_moved(*find(v, "NO3")));
  const auto of_nitrate = [](const SourceVerdict& verdict) {
    for (const base::Message& m : verdict.reasons) {
      const std::string text = in_words(m);
      if (text.find("of nitrate") != std::string::npos) return text;
    }
    return std::string();
  };
  EXPECT_TRUE(of_nitrate(v).starts_with(
      "The raw water holds 96 mg/L of nitrate (judged as 86.4 mg/L today); WHO allows 50 mg/L."))
      << of_nitrate(v);
  const auto same = judged(water->composition);
  EXPECT_TRUE(
      of_nitrate(same).starts_with("The raw water holds 96 mg/L of nitrate; WHO allows 50 mg/L."))
      << of_nitrate(same);
}

SurveyEntry strips_survey() {
  SurveyEntry survey{.source = SourceKind::kBorehole, .basis = SurveyBasis::kReadings};
  KnownWaterEntry known{.temperature = units::celsius(16)};
  known.meter = MeterEntry{.value = 480};
  known.ph = PhEntry{.value = 7.3};
  known.hardness = TestEntry{.value = milligram_per_litre(390)};
  known.nitrate = TestEntry{.low = milligram_per_litre(50), .high = milligram_per_litre(100)};
  survey.known = known;
  return survey;
}

// A strip is evidence for what it read; what the other readings make likely is none.
TEST(Evidence, of_strips) {
  const auto v = verdict_of(strips_survey());
  EXPECT_EQ(find(v, "NO3")->evidence, Evidence::kStrip);
  EXPECT_EQ(v.warranted, Warranted::kYes);
  EXPECT_EQ(find(v, "Na"), nullptr);
  EXPECT_TRUE(says(v.cautions, "verdict.caution.strips"));
  EXPECT_FALSE(v.scales.empty());
  auto lower = strips_survey();
  lower.known->nitrate = TestEntry{.low = milligram_per_litre(25), .high = milligram_per_litre(50)};
  const auto near = verdict_of(lower);
  EXPECT_EQ(near.warranted, Warranted::kNear);
  EXPECT_TRUE(says(near.reasons, "verdict.reason.near_by_strip"));
}

// ---- Limits of the place ------------------------------------------------------------------------

TEST(LocalProfile, its_limits_stand_before_the_authoritys) {
  auto survey = borehole_survey();
  survey.local = LocalProfile{.name = "the district"};
  survey.local->limits = {{"NO3", milligram_per_litre(100), LimitKind::kHealth, "bulletin 4"},
                          {"hardness", milligram_per_litre(300), LimitKind::kTaste, ""}};
  const auto v = verdict_of(survey);
  const auto* nitrate = find(v, "NO3");
  EXPECT_EQ(nitrate->limit.authority, "the district");
  EXPECT_EQ(nitrate->limit.edition, "bulletin 4");
  EXPECT_EQ(nitrate->limit.confidence, LimitConfidence::kEntered);
  EXPECT_EQ(nitrate->standing, Standing::kBelow);
  EXPECT_EQ(find(v, "hardness")->standing, Standing::kBroughtBelow);
  EXPECT_EQ(v.warranted, Warranted::kTaste);
}

// Nitrate/50 + nitrite/3 <= 1: WHO and EU (the shared table of limits).
TEST(Verdict, nitrate_and_nitrite_act_together) {
  auto survey = borehole_survey();
  set(survey.water, Species::NO3, 40);
  set(survey.water, Species::NO2, 1);
  const auto v = verdict_of(survey);  // 0.8 + 0.33
  EXPECT_TRUE(says(v.reasons, "verdict.reason.nitrogen"));
  EXPECT_EQ(v.warranted, Warranted::kYes);
  set(survey.water, Species::NO2, 0.3);  // 0.8 + 0.1
  EXPECT_FALSE(says(verdict_of(survey).reasons, "verdict.reason.nitrogen"));
}

// Boron hardly stays behind: at four times its limit the product is over it too.
TEST(Verdict, says_what_would_serve_where_it_is_not_enough) {
  auto survey = borehole_survey();
  set(survey.water, Species::B, 10);
  const auto v = verdict_of(survey);
  EXPECT_EQ(find(v, "B")->standing, Standing::kStaysAbove);
  EXPECT_EQ(v.warranted, Warranted::kNotEnough);
  EXPECT_TRUE(says(v.reasons, "verdict.instead.B"));
}

// ---- Seasons ------------------------------------------------------------------------------------

TEST(Sources, the_worst_mix_decides) {
  auto survey = borehole_survey();
  set(survey.water, Species::NO3, 10);
  EXPECT_EQ(find(verdict_of(survey), "NO3")->standing, Standing::kBelow);
  FurtherSource well{.name = "old well", .source = SourceKind::kWell, .water = survey.water};
  set(well.water, Species::NO3, 110);
  well.dry = {0, 0.6};
  well.wet = {0, 0.1};
  survey.further = {well};
  const auto v = verdict_of(survey);
  // 0.4 · 10 + 0.6 · 110 in the dry season.
  EXPECT_NEAR(find(v, "NO3")->raw / milligram_per_litre(1), 70, 1e-9);
  EXPECT_EQ(v.warranted, Warranted::kYes);
  // A source whose nitrate nobody knows is named.
  survey.further[0].water.ions.constituents[water::index(Species::NO3)] = {};
  EXPECT_TRUE(says(verdict_of(survey).cautions, "verdict.caution.further"));
}

TEST(Sources, corners_of_the_shares) {
  EXPECT_EQ(mixes_of({})->size(), 1U);
  EXPECT_EQ(mixes_of({})->front().first, 1);
  FurtherSource f{.name = "b", .water = borehole_survey().water};
  f.dry = {0.2, 0.5};
  const auto mixes = mixes_of({f, f});
  ASSERT_EQ(mixes->size(), 12U);
  for (const Mix& m : *mixes) {
    // The shares make one: calcium of each is the same.
    const double part = m.rest[Species::Ca] / (118e-3 / water::molar_mass_of(Species::Ca));
    EXPECT_NEAR(m.first + part, 1, 1e-9);
    EXPECT_GE(m.first, 0);
  }
}

// ---- Microbes -----------------------------------------------------------------------------------

TEST(Microbes, what_speaks_for_a_source) {
  auto survey = borehole_survey();
  survey.on = "2026-11-27";
  EXPECT_EQ(microbes_of(survey), Microbes::kNothingSpeaks);
  survey.faecal_indicators = FaecalIndicators::kAbsent;
  EXPECT_EQ(microbes_of(survey), Microbes::kOldSample);  // of no day
  survey.faecal_on = "2026-06-01";
  EXPECT_EQ(microbes_of(survey), Microbes::kClearSample);
  survey.local = LocalProfile{.name = "x", .microbe_days = 90};
  EXPECT_EQ(microbes_of(survey), Microbes::kOldSample);
  survey.faecal_indicators = FaecalIndicators::kPresent;
  EXPECT_EQ(microbes_of(survey), Microbes::kFound);
}

TEST(Microbes, mains_with_a_residual_count_unless_a_tank_stands_open) {
  auto survey = borehole_survey();
  survey.source = SourceKind::kMains;
  survey.free_chlorine = milligram_per_litre(0.3);
  EXPECT_EQ(microbes_of(survey), Microbes::kControlled);
  survey.building = BuildingEntry{.open_tank = true};
  EXPECT_EQ(microbes_of(survey), Microbes::kNothingSpeaks);
  survey.building.reset();
  survey.free_chlorine = milligram_per_litre(0.05);
  EXPECT_EQ(microbes_of(survey), Microbes::kNothingSpeaks);
  survey.source = SourceKind::kBorehole;  // someone dosed it: no network stands behind it
  survey.free_chlorine = milligram_per_litre(0.5);
  EXPECT_EQ(microbes_of(survey), Microbes::kNothingSpeaks);
}

// Any source may have a barrier instead; it counts where it can work.
TEST(Microbes, a_barrier_counts_where_it_can_work) {
  auto survey = borehole_survey();
  survey.building = BuildingEntry{.open_tank = true, .barrier = Barrier::kUvLamp};
  EXPECT_EQ(microbes_of(survey), Microbes::kNothingSpeaks);  // nobody looked at the water
  EXPECT_TRUE(says(verdict_of(survey).cautions, "verdict.caution.faecal_lamp_unknown"));
  survey.tap = TapEntry{.turbidity = 0.6};
  EXPECT_EQ(microbes_of(survey), Microbes::kBarrier);
  EXPECT_TRUE(says(verdict_of(survey).cautions, "verdict.caution.faecal_lamp"));
  survey.tap = TapEntry{.turbidity = 0.6, .worst_turbidity = 8};
  EXPECT_EQ(microbes_of(survey), Microbes::kNothingSpeaks);
  EXPECT_TRUE(says(verdict_of(survey).cautions, "verdict.caution.faecal_lamp_cloudy"));
  survey.building->barrier = Barrier::kDisinfection;
  EXPECT_EQ(microbes_of(survey), Microbes::kNothingSpeaks);
  EXPECT_TRUE(says(verdict_of(survey).cautions, "verdict.caution.faecal_no_residual"));
  survey.free_chlorine = milligram_per_litre(0.3);
  EXPECT_EQ(microbes_of(survey), Microbes::kBarrier);
  survey.faecal_indicators = FaecalIndicators::kPresent;
  EXPECT_EQ(microbes_of(survey), Microbes::kFound);
}

// ---- Beside an analysis -------------------------------------------------------------------------

TestEntry strip(double low, double high) {
  return {.low = milligram_per_litre(low), .high = milligram_per_litre(high)};
}

SurveyEntry analysis_and_strips() {
  auto survey = borehole_survey();
  survey.water.ions.constituents[water::index(Species::F)] = {};
  survey.known = KnownWaterEntry{.temperature = units::celsius(16)};
  return survey;
}

// What the laboratory did not ask for, a strip of the day tells.
TEST(Beside, a_strip_adds_what_was_not_analysed) {
  auto survey = analysis_and_strips();
  EXPECT_EQ(find(verdict_of(survey), "F"), nullptr);
  survey.known->fluoride = strip(2, 4);
  const auto v = verdict_of(survey);
  const auto* fluoride = find(v, "F");
  ASSERT_NE(fluoride, nullptr);
  EXPECT_EQ(fluoride->evidence, Evidence::kStrip);
  EXPECT_GT(fluoride->raw, milligram_per_litre(2));
  EXPECT_LT(fluoride->raw, milligram_per_litre(4));
  EXPECT_GT(fluoride->raw_high, milligram_per_litre(3.5));
  EXPECT_TRUE(says(v.cautions, "verdict.caution.strips"));
  EXPECT_EQ(find(v, "NO3")->evidence, Evidence::kLaboratory);
  // The rest of the water is as analysed.
  const auto before = surveyed_water(borehole_survey());
  const auto after = surveyed_water(survey);
  ASSERT_TRUE(before);
  ASSERT_TRUE(after);
  EXPECT_EQ(after->members.size(), 64u);
  EXPECT_NEAR(after->composition[Species::Ca], before->composition[Species::Ca], 1e-9);
  for (const auto& m : after->members) {
    EXPECT_EQ(m[Species::NO3], before->composition[Species::NO3]);
  }
  EXPECT_EQ(after->strength_spread, before->strength_spread);
}

// What both read is the laboratory's; far apart, that is said.
TEST(Beside, a_reading_far_from_the_analysis_is_named) {
  auto survey = analysis_and_strips();
  const double nitrate =
      water::analysis_of(survey.water)[Species::NO3].value / milligram_per_litre(1);
  survey.known->nitrate = strip(0.7 * nitrate, 1.4 * nitrate);
  EXPECT_FALSE(says(verdict_of(survey).cautions, "verdict.caution.reading_differs_field"));
  survey.known->nitrate = strip(3 * nitrate, 6 * nitrate);
  const auto v = verdict_of(survey);
  EXPECT_TRUE(says(v.cautions, "verdict.caution.reading_differs_field"));
  EXPECT_EQ(find(v, "NO3")->evidence, Evidence::kLaboratory);
  survey.known->nitrate = TestEntry{.low = milligram_per_litre(4 * nitrate)};
  EXPECT_TRUE(says(verdict_of(survey).cautions, "verdict.caution.reading_differs_above"));
  survey.known->nitrate = TestEntry{.high = milligram_per_litre(0.2 * nitrate)};
  EXPECT_TRUE(says(verdict_of(survey).cautions, "verdict.caution.reading_differs_below"));
  survey.known->nitrate.reset();
  for (const double ph : {7.4, 9.1}) {
    survey.known->ph = PhEntry{.value = ph};
    EXPECT_EQ(says(verdict_of(survey).cautions, "verdict.caution.reading_differs"), ph > 8);
  }
  survey.known->ph.reset();
  survey.known->meter = MeterEntry{.value = 3000, .unit = MeterUnit::kMicrosiemens};
  EXPECT_TRUE(says(verdict_of(survey).cautions, "verdict.caution.reading_differs"));
  // Half an analysis conducts too little: that says nothing against the meter.
  survey.water.ions.constituents[water::index(Species::HCO3)] = {};
  survey.water.alkalinity.reset();
  EXPECT_FALSE(says(verdict_of(survey).cautions, "verdict.caution.reading_differs"));
}

// ---- In front -----------------------------------------------------------------------------------

TEST(PreTreatment, turbidity_of_a_season_needs_settling) {
  auto survey = borehole_survey();
  survey.tap = TapEntry{.turbidity = 0.5};
  EXPECT_FALSE(says(verdict_of(survey).pre_treatment, "verdict.front.settling_season"));
  survey.tap->worst_turbidity = 60;
  EXPECT_TRUE(says(verdict_of(survey).pre_treatment, "verdict.front.settling_season"));
  survey.tap->turbidity = 20;
  EXPECT_TRUE(says(verdict_of(survey).pre_treatment, "verdict.front.settling"));
  survey.tap = TapEntry{.turbidity = 3};
  EXPECT_TRUE(says(verdict_of(survey).pre_treatment, "verdict.front.two_sediment"));
}

TEST(PreTreatment, iron_by_its_form_and_the_rest) {
  auto survey = borehole_survey();
  set(survey.water, Species::Fe, 0.6);
  set(survey.water, Species::Mn, 0.2);
  EXPECT_TRUE(says(verdict_of(survey).pre_treatment, "verdict.front.iron"));
  survey.tap = TapEntry{.sulfide = milligram_per_litre(0.4), .iron = IronForm::kClear};
  const auto clear = verdict_of(survey).pre_treatment;
  EXPECT_TRUE(says(clear, "verdict.front.iron_clear"));
  EXPECT_TRUE(says(clear, "verdict.front.manganese"));
  EXPECT_TRUE(says(clear, "verdict.front.sulfide"));
  survey.tap->iron = IronForm::kRust;
  EXPECT_TRUE(says(verdict_of(survey).pre_treatment, "verdict.front.iron_rust"));
}

TEST(PreTreatment, chloramine_is_told_from_chlorine) {
  auto survey = borehole_survey();
  survey.source = SourceKind::kMains;
  survey.free_chlorine = milligram_per_litre(0.1);
  survey.tap = TapEntry{.total_chlorine = milligram_per_litre(1.5)};
  EXPECT_TRUE(says(verdict_of(survey).pre_treatment, "verdict.front.chloramine"));
  survey.tap->total_chlorine = milligram_per_litre(0.15);
  EXPECT_TRUE(says(verdict_of(survey).pre_treatment, "verdict.front.carbon"));
}

TEST(PreTreatment, heat_and_ph) {
  auto survey = borehole_survey();
  survey.building = BuildingEntry{.roof_tank = true};
  EXPECT_TRUE(says(verdict_of(survey).pre_treatment, "verdict.front.roof_tank"));
  survey.tap = TapEntry{.warmest = units::celsius(38)};
  EXPECT_TRUE(says(verdict_of(survey).pre_treatment, "verdict.front.warm"));
  survey.tap->warmest = units::celsius(48);
  EXPECT_TRUE(says(verdict_of(survey).pre_treatment, "verdict.front.hot"));
  survey.water.ph = 6.2;
  EXPECT_TRUE(says(verdict_of(survey).pre_treatment, "verdict.front.acid"));
  survey.water.ph = 8.8;
  EXPECT_TRUE(says(verdict_of(survey).pre_treatment, "verdict.front.alkaline"));
}

// ---- Scale --------------------------------------------------------------------------------------

const Scale* of(const std::vector<Scale>& scales, water::Mineral m) {
  for (const Scale& s : scales) {
    if (s.mineral == m) return &s;
  }
  return nullptr;
}

TEST(Scaling, grows_with_recovery_and_warmth) {
  const auto survey = borehole_survey();
  const auto raw = *water::speciate(water::analysis_of(survey.water));
  const std::vector raws{raw};
  double before = -9;
  ScaleGrade grade = ScaleGrade::kNone;
  for (const double recovery : {0.1, 0.3, 0.5, 0.7, 0.85}) {
    const auto scales = scaling_at(raws, {.recovery = recovery, .temperature = units::celsius(16)});
    const Scale* lime = of(scales, water::Mineral::kCalcite);
    ASSERT_NE(lime, nullptr);
    EXPECT_LT(lime->index.low, lime->index.middle);
    EXPECT_LT(lime->index.middle, lime->index.high);
    EXPECT_GT(lime->index.middle, before);
    EXPECT_GE(lime->likely, grade);
    EXPECT_LE(lime->low, lime->likely);
    EXPECT_LE(lime->likely, lime->high);
    EXPECT_LE(lime->dosed, lime->likely);
    before = lime->index.middle;
    grade = lime->likely;
    EXPECT_EQ(of(scales, water::Mineral::kBarite), nullptr);  // no barium was analysed
  }
  EXPECT_GE(grade, ScaleGrade::kFast);
  const auto cold = scaling_at(raws, {.temperature = units::celsius(10)});
  const auto warm = scaling_at(raws, {.temperature = units::celsius(35)});
  EXPECT_GT(of(warm, water::Mineral::kCalcite)->index.middle,
            of(cold, water::Mineral::kCalcite)->index.middle);
}

// The grade is of the index at the wall: concentrated by 1/(1 − Y) and the polarisation. At no
// recovery and no spread it is the water's own index, up to that polarisation of a quarter.
TEST(Scaling, starts_from_the_waters_own_index) {
  const auto raw = *water::speciate(water::analysis_of(borehole_survey().water));
  const std::vector raws{raw};
  const auto scales = scaling_at(raws, {.recovery = 0.0, .temperature = units::celsius(16)});
  const double own = water::saturation_index(water::closed_speciation(raw, units::celsius(16)),
                                             water::Mineral::kGypsum);
  const double wall = of(scales, water::Mineral::kGypsum)->index.middle;
  // Twice log 1.25 = 0.19, a little less for activity.
  EXPECT_GT(wall, own + 0.1);
  EXPECT_LT(wall, own + 0.2);
}

TEST(Scaling, thresholds_are_the_places_own) {
  const auto raw = *water::speciate(water::analysis_of(borehole_survey().water));
  const std::vector raws{raw};
  ScalePlan plan{.temperature = units::celsius(16)};
  EXPECT_EQ(of(scaling_at(raws, plan), water::Mineral::kCalcite)->likely, ScaleGrade::kSlow);
  plan.grades = {{water::Mineral::kCalcite, false, -2, -1.5, -1}};
  EXPECT_EQ(of(scaling_at(raws, plan), water::Mineral::kCalcite)->likely, ScaleGrade::kDoNot);
  plan.grades = {{water::Mineral::kCalcite, false, 3, 4, 5}};
  EXPECT_EQ(of(scaling_at(raws, plan), water::Mineral::kCalcite)->likely, ScaleGrade::kNone);
}

TEST(Scaling, names_the_recovery_that_serves) {
  auto survey = borehole_survey();
  survey.plan = PlanEntry{.recovery = 0.85};
  const auto v = verdict_of(survey);
  EXPECT_TRUE(says(v.pre_treatment, "verdict.front.scale_fast") ||
              says(v.pre_treatment, "verdict.front.scale_do_not"));
  EXPECT_TRUE(says(v.pre_treatment, "verdict.front.scale_recovery"));
  const auto raw = *water::speciate(water::analysis_of(survey.water));
  const std::vector raws{raw};
  ScalePlan plan{.temperature = units::celsius(16)};
  const auto slow = recovery_for_slow(raws, plan, false);
  ASSERT_TRUE(slow);
  EXPECT_LT(*slow, 0.85);
  plan.recovery = *slow;
  EXPECT_LE(worst_grade(scaling_at(raws, plan), false), ScaleGrade::kSlow);
  // With antiscalant more is possible.
  EXPECT_GT(*recovery_for_slow(raws, plan, true), *slow);
}

// ---- Behind -------------------------------------------------------------------------------------

TEST(Downstream, metals_minerals_and_sodium) {
  auto survey = borehole_survey();
  const auto plain = verdict_of(survey).behind;
  EXPECT_TRUE(says(plain, "verdict.behind.corrosive"));
  EXPECT_TRUE(says(plain, "verdict.behind.few_minerals"));
  EXPECT_FALSE(says(plain, "verdict.behind.copper"));
  survey.building =
      BuildingEntry{.softener = true, .copper = true, .brass = true, .galvanised = true};
  const auto v = verdict_of(survey).behind;
  for (const char* id :
       {"verdict.behind.copper", "verdict.behind.brass", "verdict.behind.galvanised"}) {
    EXPECT_TRUE(says(v, id)) << id;
  }
  // 46 mg/L and 0.46 mg for each mg of hardness (the shared table of limits): 46 + 0.46 · 394.
  const auto sodium = std::find_if(v.begin(), v.end(), [](const base::Message& m) {
    return m.id.starts_with("verdict.behind.sodium");
  });
  ASSERT_NE(sodium, v.end());
  const auto number = std::get<base::Number>(sodium->arguments[0].second).value;
  EXPECT_NEAR(number, 46 + 0.46 * 394, 2);
}

// What was not analysed is not zero: nothing is said of minerals, alkalinity or lime.
TEST(Downstream, says_nothing_of_what_nobody_analysed) {
  auto survey = borehole_survey();
  survey.building = BuildingEntry{.softener = true, .copper = true};
  for (const Species s : {Species::Mg, Species::HCO3}) {
    survey.water.ions.constituents[water::index(s)] = {};
  }
  const auto v = verdict_of(survey);
  EXPECT_TRUE(v.behind.empty());
  EXPECT_TRUE(says(v.pre_treatment, "verdict.front.scale_unknown"));
  EXPECT_FALSE(says(verdict_of(borehole_survey()).pre_treatment, "verdict.front.scale_unknown"));
}

// ---- The reject ---------------------------------------------------------------------------------

// Under 0.7 dS/m none, to 3 slight to moderate, beyond severe [ayers1985, table 1], from memory.
TEST(RejectUse, by_the_classes_of_salinity) {
  auto survey = borehole_survey();
  const auto raw = *water::speciate(water::analysis_of(survey.water));
  EXPECT_EQ(reject_use(survey, water::scaled(raw, 0.5), 0.1).irrigation, Irrigation::kUnrestricted);
  EXPECT_EQ(reject_use(survey, raw, 0.3).irrigation, Irrigation::kModerate);
  EXPECT_EQ(reject_use(survey, water::scaled(raw, 3), 0.5).irrigation, Irrigation::kSevere);
  const auto use = reject_use(survey, raw, 0.5);
  EXPECT_TRUE(says(use.words, "verdict.reject.label"));
  EXPECT_GT(use.conductivity, reject_use(survey, raw, 0.2).conductivity);
  survey.faecal_indicators = FaecalIndicators::kPresent;
  EXPECT_TRUE(says(reject_use(survey, raw, 0.3).words, "verdict.reject.faecal"));
}

// Every sentence that these cases give has its words, and none says safe.
TEST(Verdict, speaks_in_whole_sentences) {
  auto survey = borehole_survey();
  set(survey.water, Species::Fe, 0.6);
  set(survey.water, Species::B, 10);
  survey.tap = TapEntry{.total_chlorine = milligram_per_litre(1),
                        .turbidity = 9,
                        .sulfide = milligram_per_litre(1),
                        .warmest = units::celsius(50)};
  survey.building = BuildingEntry{.open_tank = true,
                                  .roof_tank = true,
                                  .softener = true,
                                  .copper = true,
                                  .brass = true,
                                  .galvanised = true};
  survey.plan = PlanEntry{.recovery = 0.8};
  const auto v = verdict_of(survey);
  for (const auto* list :
       {&v.reasons, &v.pre_treatment, &v.behind, &v.reject->words, &v.cautions}) {
    EXPECT_FALSE(list->empty());
    for (const auto& m : *list) {
      const auto text = messages::render(messages::catalogue("en"), m);
      EXPECT_EQ(text.find(m.id), std::string::npos) << text;
      EXPECT_EQ(text.find(" safe"), std::string::npos) << text;
      EXPECT_EQ(text.find('{'), std::string::npos) << text;
    }
  }
}

}  // namespace
}  // namespace drawoff::visit
