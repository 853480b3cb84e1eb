#include "fields/schema.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <string>

#include "fields/example_test.h"
#include "fields/write.h"

namespace drawoff::fields {
namespace {

using example::Machine;

TEST(Schema, describes_every_field) {
  const Json s = schema<Machine>(example::catalogue());
  EXPECT_EQ(s["$schema"], "https://json-schema.org/draft/2020-12/schema");
  EXPECT_EQ(s["title"], "example_machine");
  EXPECT_EQ(s["type"], "object");
  // The restrictor has no default of its own, as it has a field that must be given.
  EXPECT_EQ(s["required"], Json({"name", "restrictor", "elements"}));
  EXPECT_EQ(dump(s["properties"]["temperature_C"]),
            R"({"description":"the temperature of the raw water","type":"number","minimum":0,)"
            R"("maximum":60,"x-unit":"Cel","default":25})");
  EXPECT_EQ(dump(s["properties"]["elements"]),
            R"({"description":"the membrane elements, first the one fed first","type":"array",)"
            R"("minItems":1,"maxItems":12,"items":{"$ref":"#/$defs/example_element"}})");
  EXPECT_EQ(dump(s["properties"]["heights_m"]["items"]),
            R"({"type":"number","minimum":-10,"maximum":50,"x-unit":"m"})");
  EXPECT_EQ(dump(s["properties"]["pH"]["anyOf"]),
            R"([{"type":"number","minimum":0,"maximum":14},{"type":"null"}])");
  EXPECT_EQ(dump(s["properties"]["expected_ppm"]["x-unit"]), R"("{ppm}")");
  EXPECT_EQ(dump(s["$defs"]["example_restrictor"]["properties"]["kind"]["enum"]),
            R"(["capillary","orifice","needle"])");
  EXPECT_EQ(s["$defs"]["example_restrictor"]["properties"]["tolerance_pct"]["default"], 15);
  EXPECT_EQ(s["$defs"].size(), 2U);
}

// What is written has just the keys that are described.
TEST(Schema, agrees_with_what_is_written) {
  Machine machine;
  machine.elements.resize(1);
  machine.second = example::Restrictor{};
  const Json written = write(machine);
  const Json s = schema<Machine>(example::catalogue());
  ASSERT_EQ(written.size(), s["properties"].size());
  for (const auto& [key, value] : written.items()) {
    EXPECT_TRUE(s["properties"].contains(key)) << key;
  }
}

TEST(Help, lists_nested_fields_with_their_paths) {
  const auto lines = help<Machine>();
  const auto line = [&lines](std::string_view key) {
    const auto found =
        std::find_if(lines.begin(), lines.end(), [key](const HelpLine& l) { return l.key == key; });
    EXPECT_NE(found, lines.end()) << key;
    return found != lines.end() ? *found : HelpLine{};
  };
  const HelpLine flow = line("restrictor.flow_mL_min");
  EXPECT_EQ(flow.unit, "mL/min");
  EXPECT_EQ(flow.range.low, 1);
  EXPECT_EQ(flow.range.high, 20000);
  EXPECT_EQ(flow.default_value, "");
  EXPECT_TRUE(flow.required);
  EXPECT_EQ(flow.meaning, "field.example_restrictor.flow_mL_min");
  EXPECT_EQ(line("temperature_C").default_value, "25");
  EXPECT_FALSE(line("temperature_C").required);
  EXPECT_EQ(line("restrictor.kind").choices.size(), 3U);
  EXPECT_FALSE(line("restrictor.tolerance_pct").asked);
  EXPECT_EQ(line("heights_m[]").range.high, 50);
  EXPECT_EQ(line("elements[].area_m2").unit, "m²");
}

TEST(MessageIds, are_all_in_the_catalogue) {
  const auto ids = message_ids<Machine>();
  EXPECT_EQ(ids.size(), 16U);  // 10 of the machine, 4 of the restrictor, 2 of the element
  for (const std::string& id : ids) {
    EXPECT_NE(example::catalogue().find(id), nullptr) << id;
  }
}

}  // namespace
}  // namespace drawoff::fields
