#include "fields/read.h"

#include <gtest/gtest.h>

#include <string>

#include "fields/example_test.h"
#include "fields/write.h"
#include "messages/catalogue.h"

namespace drawoff::fields {
namespace {

using example::Machine;

std::string say(const base::Message& message) {
  return messages::render(example::catalogue(), message);
}

Json json_of(std::string_view text) {
  auto json = parse_json(text);
  EXPECT_TRUE(json) << text;
  return json ? *json : Json();
}

// The sentence of a document that is wrong; what is right about it is filled in.
std::string fault(std::string_view change) {
  Json json = json_of(R"({"name": "school", "elements": [{"area_m2": 0.5}],
                          "restrictor": {"flow_mL_min": 300}})");
  json.merge_patch(json_of(change));  // null takes a key away
  ReadContext context{.path = Path("machine")};
  const auto machine = read<Machine>(json, context);
  return machine ? "" : say(machine.error().message);
}

TEST(Read, takes_numbers_in_the_unit_of_the_key) {
  ReadContext context;
  const auto machine = read<Machine>(json_of(R"({
    "name": "school", "temperature_C": 18.5, "persons": 40.0, "has_pump": true, "pH": null,
    "restrictor": {"flow_mL_min": 300, "kind": "orifice", "tolerance_pct": 10},
    "elements": [{"area_m2": 0.5, "back_pressure_kPa": 50}, {"area_m2": 1}],
    "heights_m": [1, -2.5], "expected_ppm": {"low": 20, "high": 65.5}})"),
                                     context);
  ASSERT_TRUE(machine) << say(machine.error().message);
  EXPECT_TRUE(context.warnings.empty());
  EXPECT_EQ(machine->temperature, units::celsius(18.5));
  EXPECT_EQ(machine->restrictor.flow.si(), 300 / 6e7);  // 1 mL/min is 1e-6/60 m³/s
  EXPECT_EQ(machine->restrictor.kind, example::Kind::kOrifice);
  EXPECT_EQ(machine->restrictor.tolerance, 0.1);
  EXPECT_EQ(machine->restrictor.pressure, units::bar(6));  // not given: the default
  ASSERT_EQ(machine->elements.size(), 2U);
  EXPECT_EQ(machine->elements[0].back_pressure, units::pascal(50e3));
  EXPECT_FALSE(machine->elements[1].back_pressure);
  EXPECT_EQ(machine->heights[1], units::metre(-2.5));
  EXPECT_EQ(machine->persons, 40);
  EXPECT_TRUE(machine->has_pump);
  EXPECT_FALSE(machine->ph);
  EXPECT_EQ(machine->expected, (example::Span{20, 65.5}));
}

TEST(Read, says_which_value_is_wrong_and_what_to_do) {
  const std::string flow = "Enter the flow printed on the restrictor";
  const std::string nb = "\u00A0";
  EXPECT_EQ(fault(R"({"restrictor": {"flow_mL_min": 0}})"),
            "machine.restrictor.flow_mL_min is 0" + nb + "mL/min; it must be from 1 to 20,000" +
                nb + "mL/min. " + flow + ".");
  EXPECT_EQ(fault(R"({"restrictor": {"flow_mL_min": 20000.25}})"),
            "machine.restrictor.flow_mL_min is 20,000.25" + nb +
                "mL/min; it must be from 1 to 20,000" + nb + "mL/min. " + flow + ".");
  EXPECT_EQ(
      fault(R"({"restrictor": null})"),
      "machine.restrictor.flow_mL_min is missing. " + flow + ", from 1 to 20,000" + nb + "mL/min.");
  EXPECT_EQ(
      fault(R"({"restrictor": {"flow_mL_min": null, "flow_mL_mim": 5}})"),
      "machine.restrictor.flow_mL_min is missing (there is flow_mL_mim, which is not known). " +
          flow + ", from 1 to 20,000" + nb + "mL/min.");
  EXPECT_EQ(fault(R"({"restrictor": {"flow_mL_min": "14,5"}})"),
            "machine.restrictor.flow_mL_min is \"14,5\"; it must be a number, without quotation "
            "marks. " +
                flow + ", from 1 to 20,000" + nb + "mL/min.");
  EXPECT_EQ(fault(R"({"restrictor": {"kind": "orifise"}})"),
            "machine.restrictor.kind is \"orifise\"; it must be one of \"capillary\", \"orifice\", "
            "\"needle\". Did you mean \"orifice\"? Choose the kind of restrictor.");
  EXPECT_EQ(fault(R"({"restrictor": {"kind": 3}})"),
            "machine.restrictor.kind is 3; it must be text, in quotation marks. Enter the kind of "
            "restrictor: one of \"capillary\", \"orifice\", \"needle\".");
  EXPECT_EQ(fault(R"({"restrictor": 5})"),
            "machine.restrictor is 5; it must be an object, in braces. Enter the restrictor of the "
            "reject.");
  EXPECT_EQ(
      fault(R"({"elements": []})"),
      "machine.elements has 0 entries; it must have from 1 to 12. Enter the membrane elements, "
      "first the one fed first.");
  EXPECT_EQ(fault(R"({"elements": [{"area_m2": 1}, {"area_m2": 0.01}]})"),
            "machine.elements[1].area_m2 is 0.01" + nb + "m²; it must be 0.05" + nb +
                "m² or more. Enter the membrane area of the element.");
  EXPECT_EQ(fault(R"({"heights_m": [1, 60]})"),
            "machine.heights_m[1] is 60" + nb + "m; it must be from -10 to 50" + nb +
                "m. Enter the heights of the coolers above the unit.");
  EXPECT_EQ(fault(R"({"heights_m": [1, 2, 3, 4]})"),
            "machine.heights_m has 4 entries; it must have at most 3. Enter the heights of the "
            "coolers above the unit.");
  EXPECT_EQ(
      fault(R"({"name": ""})"),
      "machine.name has 0 characters; it must have from 1 to 80. Enter the name of the site.");
  EXPECT_EQ(fault(R"({"name": null})"), "machine.name is missing. Enter the name of the site.");
  EXPECT_EQ(
      fault(R"({"persons": 2.5})"),
      "machine.persons is 2.5; it must be a whole number. Enter the number of people who drink "
      "here, 0 or more.");
  EXPECT_EQ(fault(R"({"persons": -1})"),
            "machine.persons is -1; it must be 0 or more. Enter the number of people who drink "
            "here.");
  EXPECT_EQ(
      fault(R"({"persons": 3000000000})"),
      "machine.persons is 3,000,000,000; it must be from 0 to 2,147,483,647. Enter the number "
      "of people who drink here.");
  EXPECT_EQ(fault(R"({"has_pump": "yes"})"),
            "machine.has_pump is \"yes\"; it must be true or false. Enter whether the unit has a "
            "pump.");
  EXPECT_EQ(fault(R"({"pH": 15})"),
            "machine.pH is 15; it must be from 0 to 14. Enter the pH of the raw water.");
  EXPECT_EQ(
      fault(R"({"expected_ppm": {"low": 1, "high": []}})"),
      "machine.expected_ppm.high is []; it must be a number. Enter the reading to be expected, "
      "low and high.");
  EXPECT_EQ(fault(R"({"has_pump": true, "persons": 0})"),
            "machine.persons is 0, yet there is a pump. Enter who drinks, or no pump.");
}

TEST(Read, null_is_not_a_value) {
  ReadContext context{.path = Path("machine")};
  const auto machine = read<Machine>(
      json_of(
          R"({"name": "s", "elements": [{"area_m2": null}], "restrictor": {"flow_mL_min": 9}})"),
      context);
  ASSERT_FALSE(machine);
  EXPECT_EQ(say(machine.error().message),
            "machine.elements[0].area_m2 is null; it must be a number. Enter the membrane area of "
            "the element, 0.05\u00A0m² or more.");
}

TEST(Read, the_root_must_be_an_object) {
  ReadContext context;
  const auto machine = read<Machine>(json_of("[1]"), context);
  ASSERT_FALSE(machine);
  EXPECT_EQ(say(machine.error().message), "The input is [1]; it must be an object, in braces.");
}

TEST(Read, names_and_keeps_what_it_does_not_know) {
  const Json json = json_of(R"({"name": "s", "persns": 5, "x\ny": [1, {"z": null}],
    "elements": [{"area_m2": 1, "colour": "blue"}],
    "restrictor": {"flow_mL_min": 9, "pressure_psi": 60}})");
  ReadContext context;
  const auto machine = read<Machine>(json, context);
  ASSERT_TRUE(machine);
  ASSERT_EQ(context.warnings.size(), 4U);
  EXPECT_EQ(
      say(context.warnings[0]),
      "restrictor.pressure_psi is not known here and is not used. Did you mean pressure_bar?");
  EXPECT_EQ(say(context.warnings[1]),
            "elements[0].colour is not known here; it is kept but not used.");
  EXPECT_EQ(say(context.warnings[2]),
            "persns is not known here; it is kept but not used. Did you mean persons?");
  EXPECT_EQ(say(context.warnings[3]), "x\\u000ay is not known here; it is kept but not used.");

  Json again = write(*machine);  // not const: a key that was lost then reads as null
  EXPECT_EQ(again["persns"], 5);
  EXPECT_EQ(dump(again["x\ny"]), R"([1,{"z":null}])");
  EXPECT_EQ(again["elements"][0]["colour"], "blue");
}

TEST(Write, follows_the_table) {
  Machine machine;
  machine.name = "s";
  machine.temperature = units::celsius(25.1);
  machine.restrictor.flow = units::litre_per_hour(18);
  machine.elements.resize(1);
  machine.elements[0].area = units::square_metre(0.5);
  EXPECT_EQ(dump(write(machine)),
            R"({"name":"s","temperature_C":25.1,)"
            R"("restrictor":{"flow_mL_min":300,"pressure_bar":6,"kind":"capillary",)"
            R"("tolerance_pct":15},"elements":[{"area_m2":0.5}],"heights_m":[],"persons":1,)"
            R"("has_pump":false,"pH":null,"expected_ppm":{"low":0,"high":0}})");
}

}  // namespace
}  // namespace drawoff::fields
