#include "book/fold.h"

#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <algorithm>
#include <cstddef>
#include <cstdlib>
#include <functional>
#include <string>
#include <utility>
#include <vector>

#include "book/example_test.h"
#include "fields/json.h"

namespace drawoff::book {
namespace {

std::string said(const Current& current) { return fields::dump(current.body); }

// All that the fold says, without where in the file it was found.
std::string state(const Folded& folded) {
  std::string out;
  const auto add = [&out](std::string_view what, const Current& current) {
    out.append(what).append(" " + current.id.text + " " + current.at.text + " " + said(current));
    out += '\n';
  };
  if (folded.site) add("site", *folded.site);
  if (folded.survey) add("survey", *folded.survey);
  for (const Current& c : folded.machines) add("machine", c);
  for (const Current& reading : folded.readings) add("reading", reading);
  return out;
}

SiteFile of(std::vector<Entry> entries) {
  SiteFile file;
  file.entries = std::move(entries);
  return file;
}

TEST(Fold, the_last_of_a_kind_holds_and_every_reading_counts) {
  const Folded now = fold(of({entry({.id = 6, .minute = 6, .says = "late"}),
                              entry({.id = 2, .minute = 2, .kind = "machine", .says = "old"}),
                              entry({.id = 3, .minute = 3, .kind = "machine", .says = "new"}),
                              entry({.id = 1, .minute = 1, .kind = "survey"}),
                              entry({.id = 4, .minute = 4, .kind = "photo"}),
                              entry({.id = 5, .minute = 5, .says = "early"})}),
                          fields::Path("school"));
  EXPECT_FALSE(now.site);
  ASSERT_FALSE(now.machines.empty());
  EXPECT_EQ(said(now.machines.back()), R"({"says":"new"})");
  EXPECT_EQ(now.machines.back().index, 2U);
  EXPECT_EQ(now.machines.back().path.text(), "school.entries[2].body");
  ASSERT_TRUE(now.survey);
  EXPECT_EQ(now.survey->path.text(), "school.entries[3].body");
  ASSERT_EQ(now.readings.size(), 2U);
  EXPECT_EQ(said(now.readings[0]), R"({"says":"early"})");
  EXPECT_EQ(said(now.readings[1]), R"({"says":"late"})");
}

TEST(Fold, turns_are_of_the_latest_setting_and_how_it_was_left_stays) {
  const Folded now =
      fold(of({entry({.id = 1, .minute = 1, .kind = "blend"}),
               entry({.id = 2, .minute = 2, .kind = "blend_turn", .says = "first"}),
               entry({.id = 3, .minute = 3, .kind = "blend_left", .says = "left"}),
               entry({.id = 4, .minute = 4, .kind = "blend", .says = "again"}),
               entry({.id = 5, .minute = 5, .kind = "blend_turn", .says = "then"})}));
  ASSERT_EQ(now.blends.size(), 2U);
  EXPECT_EQ(said(now.blends.back()), R"({"says":"again"})");
  ASSERT_EQ(now.blend_turns.size(), 1U);
  EXPECT_EQ(said(now.blend_turns[0]), R"({"says":"then"})");
  ASSERT_EQ(now.blends_left.size(), 1U);
  EXPECT_EQ(said(now.blends_left.back()), R"({"says":"left"})");
}

TEST(Fold, of_equal_clocks_the_ids_decide) {
  const Folded now = fold(of({entry({.id = 2, .kind = "site", .says = "second"}),
                              entry({.id = 1, .kind = "site", .says = "first"})}));
  ASSERT_TRUE(now.site);
  EXPECT_EQ(said(*now.site), R"({"says":"second"})");
}

TEST(Fold, a_correction_stands_where_its_entry_stood) {
  const Folded now =
      fold(of({entry({.id = 1, .minute = 1, .kind = "machine", .says = "old"}),
               entry({.id = 2, .minute = 2, .kind = "machine", .says = "new"}),
               entry({.id = 3, .minute = 3, .kind = "machine", .supersedes = 1, .says = "slip"}),
               entry({.id = 4, .minute = 4, .says = "a"}),
               entry({.id = 5, .minute = 5, .says = "b"}),
               entry({.id = 6, .minute = 6, .supersedes = 4, .says = "a, corrected"})}));
  ASSERT_FALSE(now.machines.empty());
  EXPECT_EQ(said(now.machines.back()), R"({"says":"new"})");
  ASSERT_EQ(now.readings.size(), 2U);
  EXPECT_EQ(said(now.readings[0]), R"({"says":"a, corrected"})");
  EXPECT_EQ(now.readings[0].id.text, id_of(6));
  EXPECT_EQ(said(now.readings[1]), R"({"says":"b"})");
}

TEST(Fold, of_two_corrections_the_later_holds) {
  const Folded now = fold(of({entry({.id = 1, .minute = 1, .says = "9"}),
                              entry({.id = 4, .minute = 4, .supersedes = 2, .says = "6, again"}),
                              entry({.id = 3, .minute = 3, .supersedes = 1, .says = "7"}),
                              entry({.id = 2, .minute = 2, .supersedes = 1, .says = "6"})}));
  ASSERT_EQ(now.readings.size(), 1U);
  EXPECT_EQ(said(now.readings[0]), R"({"says":"6, again"})");
}

TEST(Fold, an_unknown_kind_withdraws) {
  const Folded now =
      fold(of({entry({.id = 1, .minute = 1}),
               entry({.id = 2, .minute = 2, .kind = "withdrawal", .supersedes = 1})}));
  EXPECT_TRUE(now.readings.empty());
}

// Histories as a few devices make them: entries of every kind, each of which may correct any
// earlier one, with few minutes, so that clocks are often equal and ids decide.
rc::Gen<std::vector<Entry>> histories() {
  return rc::gen::exec([] {
    const int count = *rc::gen::inRange(0, 25);
    std::vector<std::pair<int, int>> stamps;  // minute, id: the order of time
    for (int i = 0; i < count; ++i) {
      const int minute = *rc::gen::resize(rc::kNominalSize, rc::gen::inRange(0, 10));
      stamps.emplace_back(minute, i + 1);
    }
    std::sort(stamps.begin(), stamps.end());
    std::vector<Entry> entries;
    for (std::size_t i = 0; i < stamps.size(); ++i) {
      Made made{.id = stamps[i].second, .minute = stamps[i].first};
      made.kind = *rc::gen::element<std::string>("site", "survey", "machine", "reading", "photo");
      const int earlier =
          *rc::gen::resize(rc::kNominalSize, rc::gen::inRange(-3, static_cast<int>(i)));
      if (earlier >= 0) made.supersedes = stamps[static_cast<std::size_t>(earlier)].second;
      made.says = std::to_string(i);
      entries.push_back(entry(made));
    }
    return entries;
  });
}

// A fixed seed: the same hundred histories on every machine; a counterexample is printed.
bool holds(const std::string& what, const std::function<void()>& property) {
  // NOLINTNEXTLINE(concurrency-mt-unsafe): before threads
  setenv("RC_PARAMS", "seed=20250309 max_success=100 max_size=40", 0);
  return rc::check(what, property);
}

void log_entries(const std::vector<Entry>& entries) { RC_LOG() << write_site_file(of(entries)); }

TEST(Fold, the_order_in_the_file_does_not_matter) {
  EXPECT_TRUE(holds("any order folds to the same", [] {
    const std::vector<Entry> history = *rc::gen::noShrink(histories());
    std::vector<Entry> other = history;
    for (std::size_t i = other.size(); i > 1; --i) {
      const auto j = *rc::gen::resize(rc::kNominalSize, rc::gen::inRange<std::size_t>(0, i));
      std::swap(other[i - 1], other[j]);
    }
    log_entries(history);
    RC_ASSERT(state(fold(of(other))) == state(fold(of(history))));
    // And so does a file that was written and read.
    fields::ReadContext context;
    const auto again = read_site_file(write_site_file(of(other)), context);
    RC_ASSERT(static_cast<bool>(again));
    RC_ASSERT(again->entries == other);
    RC_ASSERT(state(fold(*again)) == state(fold(of(history))));
  }));
}

TEST(Fold, what_is_superseded_is_never_shown) {
  EXPECT_TRUE(holds("nothing superseded is current", [] {
    const std::vector<Entry> history = *rc::gen::noShrink(histories());
    log_entries(history);
    const Folded now = fold(of(history));
    std::vector<Current> shown = now.readings;
    shown.insert(shown.end(), now.machines.begin(), now.machines.end());
    for (const auto& one : {now.site, now.survey}) {
      if (one) shown.push_back(*one);
    }
    for (const Entry& e : history) {
      if (!e.supersedes) continue;
      for (const Current& current : shown) RC_ASSERT(current.id.text != e.supersedes->text);
    }
    // And every original reading that nobody touched is there.
    for (const Entry& e : history) {
      const bool touched =
          e.supersedes || std::any_of(history.begin(), history.end(), [&e](const Entry& other) {
            return other.supersedes && *other.supersedes == e.id;
          });
      if (touched || e.kind != "reading") continue;
      RC_ASSERT(std::any_of(now.readings.begin(), now.readings.end(), [&e](const Current& c) {
        return c.id == e.id;
      }));
    }
  }));
}

}  // namespace
}  // namespace drawoff::book
