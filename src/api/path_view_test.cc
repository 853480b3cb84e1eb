// The words beside the drawing: every part has them, and they have room.
#include "api/path_view.h"

#include <gtest/gtest.h>

#include <fstream>
#include <set>
#include <sstream>
#include <string>

#include "paper/estimate.h"

namespace drawoff::api {
namespace {

using machine::BlendFrom;
using machine::FilterKind;
using machine::MachineEntry;
using machine::ProductVessel;
using paper::PartKind;
using paper::ScenePart;

const messages::Catalogue& english() { return messages::catalogue("en"); }

// With every part that there is; values are long ones.
MachineEntry everything() {
  MachineEntry m;
  m.supply.pressure = units::bar(3.45);
  m.raw_tank = {.volume = units::litre(1250), .level = units::metre(12.5)};
  m.regulator = {.set_pressure = units::bar(2.75)};
  m.solenoid = machine::SolenoidEntry{};
  for (const auto& kind : fields::EnumTable<FilterKind>::list) m.filters.push_back({kind.value});
  m.hydraulic_shut_off = machine::HydraulicShutOffEntry{};
  m.low_pressure_switch = {.cut_out = units::bar(0.45), .cut_in = units::bar(0.85)};
  m.high_pressure_switch = {.cut_out = units::bar(2.75), .cut_in = units::bar(1.85)};
  m.pump = machine::PumpEntry{
      .rated_flow = units::litre_per_hour(1250), .rated_pressure = units::bar(15.5), .count = 4};
  m.element = {.size = "4040",
               .permeate_flow = units::litre_per_hour(335),
               .test_pressure = units::bar(15.5),
               .in_series = 3,
               .in_parallel = 2};
  m.restrictor.flow = units::litre_per_hour(87);
  m.flush_valve = {.flow = units::litre_per_hour(1250)};
  m.recirculation = {.full_open_flow = units::litre_per_hour(500), .opening = 0.45};
  m.blend = machine::BlendEntry{.opening = 0.25};
  m.product.height = units::metre(12.5);
  m.product.coolers.assign(3, {.height = units::metre(12.5)});
  return m;
}

double lines(const std::string& text, double size, double width) {
  if (text.empty()) return 0;
  const auto broken = paper::estimated_lines(text, {.size = size, .width = width});
  return 1.25 * size * static_cast<double>(broken.size());
}

TEST(PathView, every_part_has_a_name_a_purpose_and_room_for_its_words) {
  for (const auto& vessel : fields::EnumTable<ProductVessel>::list) {
    for (const auto units : {fields::UnitSystem::kMetric, fields::UnitSystem::kUs}) {
      MachineEntry m = everything();
      m.product.vessel = vessel.value;
      const paper::Scene scene = paper::water_path(m, {});
      std::set<std::string> paths;
      for (const ScenePart& part : scene.parts) {
        const std::string path = part_path(part);
        EXPECT_TRUE(paths.insert(path).second) << path << " stands twice";
        const auto words = part_words(part, m, units, english());
        // A missing message renders as its id.
        for (const std::string& said : {words.name, words.detail, about_part(part, m, english())}) {
          EXPECT_EQ(said.find("part."), std::string::npos) << said;
          EXPECT_EQ(said.find("scene."), std::string::npos) << said;
          EXPECT_EQ(said.find('{'), std::string::npos) << said;
        }
        EXPECT_FALSE(words.name.empty()) << path;
        // Sizes of the drawing's words (scene_drawing.cc): 12 and 11 units.
        EXPECT_LE(lines(words.name, 12, part.slot.width) + lines(words.detail, 11, part.slot.width),
                  part.slot.height + 1)
            << words.name << ": " << words.detail;
        EXPECT_FALSE(points_of(part, scene).empty()) << path;
      }
    }
  }
}

TEST(PathView, says_how_many_pumps_elements_and_coolers_there_are) {
  MachineEntry m = everything();
  const paper::Scene scene = paper::water_path(m, {});
  const auto said = [&](PartKind kind, std::size_t index = 0) {
    for (const ScenePart& part : scene.parts) {
      if (part.kind != kind || part.index != index) continue;
      const auto w = part_words(part, m, fields::UnitSystem::kMetric, english());
      return w.name + ": " + w.detail;
    }
    return std::string("none");
  };
  EXPECT_EQ(said(PartKind::kPump).substr(0, 29), "Pump: 4 one behind the other,");
  EXPECT_EQ(said(PartKind::kMembrane).substr(0, 19), "Membrane: 6 × 4040");
  EXPECT_EQ(said(PartKind::kCooler, 1).substr(0, 9), "Cooler 3:");
  m.product.vessel = ProductVessel::kTank;
  EXPECT_EQ(said(PartKind::kCooler, 1).substr(0, 9), "Cooler 2:");
  m.basis = machine::PlatesBasis::kSize;
  EXPECT_EQ(said(PartKind::kRegulator), "Pressure regulator: ") << "nobody read a plate";
}

// A part that a cause sits in must be in the drawing, or nothing would be marked.
TEST(PathView, draws_the_part_of_every_cause) {
  const paper::Scene scene = paper::water_path(everything(), {});
  std::set<std::string> drawn;
  for (const ScenePart& part : scene.parts) drawn.insert(drawn_part(part.kind));
  std::ifstream table(std::string(DRAWOFF_REFERENCE) + "/../causes.csv");
  std::string line;
  int causes = 0;
  std::getline(table, line);  // its heads
  while (std::getline(table, line)) {
    std::istringstream cells(line);
    std::string id;
    std::string part;
    std::getline(cells, id, ',');
    std::getline(cells, part, ',');
    if (id.empty() || part.empty()) continue;
    EXPECT_EQ(drawn.count(part), 1U) << id << " sits in " << part;
    ++causes;
  }
  EXPECT_GT(causes, 10);
}

}  // namespace
}  // namespace drawoff::api
