// For tests only: the verdict on a survey without a machine, what stands in it, and in what words.
#pragma once

#include <gtest/gtest.h>

#include <algorithm>
#include <string>
#include <string_view>
#include <vector>

#include "messages/catalogue.h"
#include "visit/example_test.h"
#include "visit/verdict.h"

namespace drawoff::visit {

inline SourceVerdict verdict_of(const SurveyEntry& survey) {
  const auto water = surveyed_water(survey);
  EXPECT_TRUE(water);
  const auto verdict = source_verdict(survey, judged_water(*water, water->composition, {}));
  EXPECT_TRUE(verdict);
  return *verdict;
}

inline bool says(const std::vector<base::Message>& messages, std::string_view id) {
  return std::any_of(
      messages.begin(), messages.end(), [&](const base::Message& m) { return m.id == id; });
}

// In English, with plain spaces before units.
inline std::string in_words(const base::Message& message) {
  std::string text = messages::render(messages::catalogue("en"), message);
  for (auto at = text.find("\u00a0"); at != std::string::npos; at = text.find("\u00a0")) {
    text.replace(at, 2, " ");
  }
  return text;
}

inline const SubstanceVerdict* find(const SourceVerdict& v, std::string_view substance) {
  for (const auto& s : v.substances) {
    if (s.limit.substance == substance) return &s;
  }
  return nullptr;
}

}  // namespace drawoff::visit
