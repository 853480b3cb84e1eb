#include "visit/course_log.h"

#include <gtest/gtest.h>

#include <cstdlib>

#include "messages/catalogue.h"

namespace drawoff::visit {
namespace {

std::vector<CourseStep> course() {
  return {{.step = Step::kPowerOff},
          {.step = Step::kFilterFlush, .filter = 0, .kind = machine::FilterKind::kCarbon},
          {.step = Step::kFilterFlush, .filter = 1, .kind = machine::FilterKind::kCarbon},
          {.step = Step::kJointsDry}};
}
LoggedStep logged(Step step, StepState state, const char* at, std::optional<int> part = {}) {
  const auto kind = part ? std::optional(machine::FilterKind::kCarbon) : std::nullopt;
  return {{.step = step, .part = part, .filter = kind, .state = state},
          at,
          static_cast<std::size_t>(std::atoi(at))};
}

TEST(CourseLog, the_last_word_holds) {
  const std::vector log{logged(Step::kPowerOff, StepState::kDone, "1"),
                        logged(Step::kFilterFlush, StepState::kBegun, "2", 0),
                        logged(Step::kFilterFlush, StepState::kDone, "3", 0)};
  const auto s = standings(course(), log);
  ASSERT_EQ(s.size(), 4u);
  EXPECT_TRUE(s[0].settled());
  EXPECT_EQ(s[1].state, StepState::kDone);
  EXPECT_EQ(s[1].begun_at, "2");
  EXPECT_EQ(s[1].at, "3");
  EXPECT_FALSE(s[1].early);
  EXPECT_FALSE(s[2].state);  // the other filter
  EXPECT_EQ(s[3].at, "");
}

TEST(CourseLog, a_step_before_an_open_one_is_early_for_good) {
  std::vector log{logged(Step::kFilterFlush, StepState::kDone, "1", 1),
                  logged(Step::kPowerOff, StepState::kDone, "2"),
                  logged(Step::kFilterFlush, StepState::kDone, "3", 0)};
  auto s = standings(course(), log);
  EXPECT_FALSE(s[0].early);
  EXPECT_FALSE(s[1].early);
  EXPECT_TRUE(s[2].early);
  // Done anew, in order, it is no more.
  log.push_back(logged(Step::kFilterFlush, StepState::kDone, "4", 1));
  s = standings(course(), log);
  EXPECT_FALSE(s[2].early);
}

TEST(CourseLog, not_good_and_begun_again_are_open) {
  std::vector log{logged(Step::kJointsDry, StepState::kDone, "1"),
                  logged(Step::kJointsDry, StepState::kNotGood, "2")};
  EXPECT_FALSE(standings(course(), log)[3].settled());
  log.push_back(logged(Step::kJointsDry, StepState::kBegun, "3"));
  EXPECT_FALSE(standings(course(), log)[3].settled());
  log.push_back(logged(Step::kJointsDry, StepState::kSkipped, "4"));
  EXPECT_TRUE(standings(course(), log)[3].settled());
}

// Settled by mistake: its clock does not run because of that, and what was noted stays.
TEST(CourseLog, opened_again_is_open_and_starts_no_clock) {
  std::vector log{logged(Step::kJointsDry, StepState::kBegun, "1"),
                  logged(Step::kJointsDry, StepState::kDone, "2"),
                  logged(Step::kJointsDry, StepState::kOpened, "3")};
  log.back().entry.note = "the elbow was damp";
  const auto s = standings(course(), log)[3];
  EXPECT_FALSE(s.settled());
  EXPECT_EQ(s.state, StepState::kOpened);
  EXPECT_EQ(s.begun_at, "1");
  EXPECT_EQ(s.note, "the elbow was damp");
}

TEST(CourseLog, tells_what_the_clock_said_of_a_wait) {
  using units::Time;
  LoggedStep done = logged(Step::kJointsDry, StepState::kDone, "1");
  const auto stands = [&] { return standings(course(), std::vector{done})[3]; };
  EXPECT_FALSE(stands().short_of_wait() || stands().clock_unused());  // of a step without a wait
  done.entry.wait = Time(600);
  EXPECT_TRUE(stands().clock_unused());
  EXPECT_FALSE(stands().short_of_wait());
  done.entry.counted = Time(599);
  EXPECT_TRUE(stands().short_of_wait());
  EXPECT_FALSE(stands().clock_unused());
  done.entry.counted = Time(600);
  EXPECT_FALSE(stands().short_of_wait() || stands().clock_unused());
  done.entry.counted = Time(60);
  done.entry.state = StepState::kNotGood;  // it says so itself
  EXPECT_FALSE(stands().short_of_wait());
}

// The machine was changed meanwhile.
TEST(CourseLog, what_the_machine_no_longer_has_is_left_out) {
  const std::vector log{logged(Step::kBlend, StepState::kDone, "1"),
                        logged(Step::kFilterFlush, StepState::kDone, "2", 7),
                        logged(Step::kFilterFlush, StepState::kDone, "3"),
                        {{.step = Step::kFilterFlush,
                          .part = 0,
                          .filter = machine::FilterKind::kSediment,
                          .state = StepState::kDone},
                         "4"}};
  for (const auto& s : standings(course(), log)) EXPECT_FALSE(s.state);
}

// Every step has its name, and a test its two answers and what to look at next.
TEST(CourseLog, every_step_has_its_words) {
  const auto& words = messages::catalogue("en");
  for (const auto& [step, name] : fields::EnumTable<Step>::list) {
    for (const char* kind : {"name", "what", "why"}) {
      EXPECT_NE(words.find("course." + std::string(kind) + "." + std::string(name)), nullptr)
          << name;
    }
    for (const char* kind : {"good", "not_good", "next"}) {
      EXPECT_EQ(words.find("course." + std::string(kind) + "." + std::string(name)) != nullptr,
                is_test(step))
          << name;
    }
  }
}

// Another carbon filter is put in after chlorine was read and the joints were wiped: both again.
TEST(CourseLog, a_filter_put_in_later_opens_what_hangs_on_it) {
  const std::vector<CourseStep> with_test{
      {.step = Step::kFilterFlush, .filter = 0, .kind = machine::FilterKind::kCarbon},
      {.step = Step::kChlorineZero},
      {.step = Step::kMembraneIn},
      {.step = Step::kJointsDry}};
  std::vector log{logged(Step::kFilterFlush, StepState::kDone, "1", 0),
                  logged(Step::kChlorineZero, StepState::kDone, "2"),
                  logged(Step::kMembraneIn, StepState::kDone, "3"),
                  logged(Step::kJointsDry, StepState::kDone, "4")};
  EXPECT_TRUE(standings(with_test, log)[1].settled());
  log.push_back(logged(Step::kFilterFlush, StepState::kDone, "5", 0));
  const auto s = standings(with_test, log);
  EXPECT_TRUE(s[1].again);
  EXPECT_FALSE(s[1].settled());
  EXPECT_TRUE(s[2].settled());
  EXPECT_TRUE(s[3].again);
  log.push_back(logged(Step::kChlorineZero, StepState::kDone, "6"));
  EXPECT_TRUE(standings(with_test, log)[1].settled());
  // Of another kind, it is a filter that nobody flushed.
  auto other = with_test;
  other[0].kind = machine::FilterKind::kSoftener;
  EXPECT_FALSE(standings(other, log)[1].settled());
}

TEST(CourseLog, what_was_not_good_is_not_forgotten) {
  std::vector log{logged(Step::kJointsDry, StepState::kNotGood, "1"),
                  logged(Step::kJointsDry, StepState::kSkipped, "2")};
  EXPECT_EQ(standings(course(), log)[3].not_good_at, "1");
}

TEST(CourseLog, what_is_skipped_has_a_reason) {
  const StepEntry without{.step = Step::kBlend, .state = StepState::kSkipped};
  const auto refused = fields::Table<StepEntry>::check(without, {});
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().message.id, "error.step.no_reason");
  EXPECT_TRUE(fields::Table<StepEntry>::check(
      {.step = Step::kBlend, .state = StepState::kSkipped, .note = "no valve yet"}, {}));
}

}  // namespace
}  // namespace drawoff::visit
