// calc sanitise: dose, contact and rinse for housings, tubes and vessels, membrane and cartridges
// out.
//
// Hypochlorite: 50 mg/L for 24 h or 200 mg/L for 3 h (plumbing codes, second-hand; local rules come
// first). Peroxide and peracetic acid only as the element's own sheet says: target and contact are
// then the sheet's.
#pragma once

#include "api/machine_question_fields.h"
#include "visit/sanitise.h"

namespace drawoff::api {

enum class Agent { kHypochlorite, kPeroxide, kPeraceticAcid };
enum class Contact { kLong, kShort, kSheet };

struct SanitiseInput {
  std::optional<machine::MachineEntry> machine;
  std::optional<units::Volume> volume;  // in place of the machine's
  Agent agent = Agent::kHypochlorite;
  double strength = 0.05;  // of the product: available chlorine, or the agent, g in 100 mL
  std::optional<units::Time> age;
  units::Temperature stored = units::celsius(20);
  Contact contact = Contact::kShort;
  std::optional<units::Density> sheet_target;
  std::optional<units::Time> sheet_time;
};

struct SanitiseOutput {
  units::Volume volume;
  units::Density target;
  units::Time contact;
  Band strength;  // of the product now [g/L]
  Band dose;      // [mL]
  std::vector<std::string> steps;
  std::vector<std::string> cautions;
};

base::Result<SanitiseOutput> ask_sanitise(const SanitiseInput& in,
                                          Working& working,
                                          const messages::Catalogue& words);

}  // namespace drawoff::api

namespace drawoff::fields {

template <>
struct EnumTable<api::Agent> {
  static constexpr std::string_view name = "agent";
  static constexpr std::array list = {choice(api::Agent::kHypochlorite, "hypochlorite"),
                                      choice(api::Agent::kPeroxide, "peroxide"),
                                      choice(api::Agent::kPeraceticAcid, "peracetic_acid")};
};
template <>
struct EnumTable<api::Contact> {
  static constexpr std::string_view name = "contact";
  static constexpr std::array list = {choice(api::Contact::kLong, "50_mg_L_24_h"),
                                      choice(api::Contact::kShort, "200_mg_L_3_h"),
                                      choice(api::Contact::kSheet, "sheet")};
};
template <>
struct Table<api::SanitiseInput> {
  using T = api::SanitiseInput;
  static constexpr std::string_view name = "sanitise_input";
  static constexpr auto list =
      std::make_tuple(field("machine", &T::machine),
                      field("volume_L", &T::volume, Range{0.05, 10000}),
                      field("agent", &T::agent),
                      field("strength_pct", &T::strength, Range{0.1, 50}, kRequired),
                      field("age_d", &T::age, Range{0, 2000}),
                      field("stored_C", &T::stored, Range{0, 50}),
                      field("contact", &T::contact),
                      field("sheet_mg_L", &T::sheet_target, Range{1, 20000}),
                      field("sheet_min", &T::sheet_time, Range{1, 2880}));
  // A machine or a volume; hypochlorite by a known contact, the others by their sheet.
  static base::Result<base::Done> check(const T& in, const Path& path);
};
template <>
struct Table<api::SanitiseOutput> {
  using T = api::SanitiseOutput;
  static constexpr std::string_view name = "sanitise_output";
  static constexpr auto list = std::make_tuple(field("volume_L", &T::volume, kRequired),
                                               field("target_mg_L", &T::target, kRequired),
                                               field("contact_min", &T::contact, kRequired),
                                               field("strength", &T::strength, kRequired),
                                               field("dose", &T::dose, kRequired),
                                               field("steps", &T::steps, kRequired),
                                               field("cautions", &T::cautions, kRequired));
};

}  // namespace drawoff::fields
