#include "api/own_screen.h"

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <iterator>

#include "api/api.h"

namespace drawoff::api {
namespace {

using fields::Json;

Json told(const std::string& site) {
  std::ifstream in(std::filesystem::path(DRAWOFF_REFERENCE) / "../../examples" /
                   (site + ".site.json"));
  const auto file = fields::parse_json(
      std::string(std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()));
  EXPECT_TRUE(file);
  const auto answer = ask({.name = "own_values", .input = {{"site_file", *file}}});
  EXPECT_TRUE(answer);
  return answer ? answer->output["lines"] : Json::array();
}

int rows(const Json& lines) {
  int count = 0;
  for (const auto& line : lines) count += line["kind"] == "row";
  return count;
}

TEST(OwnValues, of_a_sound_machine_stand_in_a_table) {
  const auto lines = told("clinic");
  ASSERT_FALSE(lines.empty());
  EXPECT_EQ(lines[0]["cells"][0], "This machine's own values");
  EXPECT_EQ(lines[2]["cells"][0],
            "First-day values, provisional: read flow and quality of the product again, after "
            "2026-03-05 09:12 UTC.");
  EXPECT_GE(rows(lines), 3);  // what each column is, and at least two values
}

TEST(OwnValues, of_a_faulty_machine_are_not_kept) {
  const auto lines = told("school");
  ASSERT_EQ(lines.size(), 2U);
  EXPECT_EQ(rows(lines), 0);
}

}  // namespace
}  // namespace drawoff::api
