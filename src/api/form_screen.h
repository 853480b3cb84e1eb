// Screens form and enter: what the app asks and how, and from what was typed to a body that an
// entry can keep. The forms are those of the field tables (fields/form.h), so what the app asks,
// what a file may hold and what an error says are one thing.
#pragma once

#include <string>
#include <vector>

#include "api/question.h"
#include "book/site_file.h"
#include "fields/form.h"

namespace drawoff::api {

// kKnown: what was read of a water, in place of its analysis; kReport: a laboratory's report;
// kMeter: a meter of one's own and its checks, where today is not asked but given by the app;
// kFound: what a step of the start-up showed; kBlend, kBlendTurn and kBlendLeft: a setting of the
// blend, a turn of it and how it was left; kHold and kSanitise: those questions about the site's
// machine, which is not asked again; kHandedOver: the entry of that kind.
enum class FormName {
  kSite,
  kSurvey,
  kKnown,
  kReport,
  kMachine,
  kMeter,
  kReading,
  kFound,
  kBlend,
  kBlendTurn,
  kBlendLeft,
  kHold,
  kSanitise,
  kHandedOver,
  kQuick
};

struct FormInput {
  FormName form = FormName::kSite;
  fields::UnitSystem units = fields::UnitSystem::kMetric;
  book::Body body;
};
struct EnterInput {
  FormName form = FormName::kSite;
  fields::UnitSystem units = fields::UnitSystem::kMetric;
  book::Body body;
  std::vector<fields::Typed> typed;
};
struct EnterOutput {
  book::Body body;
  std::vector<fields::FormError> errors;
};

base::Result<fields::Form> ask_form(const FormInput& in,
                                    Working& working,
                                    const messages::Catalogue& words);
base::Result<EnterOutput> ask_enter(const EnterInput& in,
                                    Working& working,
                                    const messages::Catalogue& words);

}  // namespace drawoff::api

namespace drawoff::fields {

template <>
struct EnumTable<api::FormName> {
  static constexpr std::string_view name = "form_name";
  static constexpr std::array list = {choice(api::FormName::kSite, "site"),
                                      choice(api::FormName::kSurvey, "survey"),
                                      choice(api::FormName::kKnown, "known"),
                                      choice(api::FormName::kReport, "report"),
                                      choice(api::FormName::kMachine, "machine"),
                                      choice(api::FormName::kMeter, "meter"),
                                      choice(api::FormName::kReading, "reading"),
                                      choice(api::FormName::kFound, "found"),
                                      choice(api::FormName::kBlend, "blend"),
                                      choice(api::FormName::kBlendTurn, "blend_turn"),
                                      choice(api::FormName::kBlendLeft, "blend_left"),
                                      choice(api::FormName::kHold, "hold"),
                                      choice(api::FormName::kSanitise, "sanitise"),
                                      choice(api::FormName::kHandedOver, "handed_over"),
                                      choice(api::FormName::kQuick, "quick")};
};
template <>
struct EnumTable<UnitSystem> {
  static constexpr std::string_view name = "unit_system";
  static constexpr std::array list = {choice(UnitSystem::kMetric, "metric"),
                                      choice(UnitSystem::kUs, "us")};
};
template <>
struct EnumTable<FormKind> {
  static constexpr std::string_view name = "form_kind";
  static constexpr std::array list = {choice(FormKind::kNumber, "number"),
                                      choice(FormKind::kBound, "bound"),
                                      choice(FormKind::kChoice, "choice"),
                                      choice(FormKind::kText, "text"),
                                      choice(FormKind::kFlag, "flag"),
                                      choice(FormKind::kPart, "part"),
                                      choice(FormKind::kList, "list"),
                                      choice(FormKind::kEntry, "entry")};
};
template <>
struct EnumTable<FormErrorKind> {
  static constexpr std::string_view name = "form_error_kind";
  static constexpr std::array list = {choice(FormErrorKind::kFault, "fault"),
                                      choice(FormErrorKind::kMissing, "missing")};
};

template <>
struct Table<FormChoice> {
  using T = FormChoice;
  static constexpr std::string_view name = "form_choice";
  static constexpr auto list =
      std::make_tuple(field("value", &T::value, kRequired), field("label", &T::label, kRequired));
};
template <>
struct Table<FormField> {
  using T = FormField;
  static constexpr std::string_view name = "form_field";
  static constexpr auto list = std::make_tuple(field("path", &T::path, kRequired),
                                               field("kind", &T::kind, kRequired),
                                               field("label", &T::label, kRequired),
                                               field("group", &T::group, kRequired),
                                               field("part", &T::part, kRequired),
                                               field("unit", &T::unit, kRequired),
                                               field("choices", &T::choices, kRequired),
                                               field("required", &T::required, kRequired),
                                               field("shown", &T::shown, kRequired),
                                               field("usually", &T::usually, kRequired),
                                               field("rare", &T::rare, kRequired),
                                               field("front", &T::front, kRequired));
};
template <>
struct Table<FormError> {
  using T = FormError;
  static constexpr std::string_view name = "form_error";
  static constexpr auto list = std::make_tuple(field("path", &T::path, kRequired),
                                               field("kind", &T::kind, kRequired),
                                               field("sentence", &T::sentence, kRequired));
};
template <>
struct Table<Form> {
  using T = Form;
  static constexpr std::string_view name = "form_output";
  static constexpr auto list = std::make_tuple(field("fields", &T::fields, kRequired),
                                               field("errors", &T::errors, kRequired));
};
template <>
struct Table<Typed> {
  using T = Typed;
  static constexpr std::string_view name = "typed";
  static constexpr auto list =
      std::make_tuple(field("path", &T::path, kRequired), field("text", &T::text, kRequired));
};
template <>
struct Table<api::FormInput> {
  using T = api::FormInput;
  static constexpr std::string_view name = "form_input";
  static constexpr auto list = std::make_tuple(
      field("form", &T::form, kRequired), field("units", &T::units), field("body", &T::body));
};
template <>
struct Table<api::EnterInput> {
  using T = api::EnterInput;
  static constexpr std::string_view name = "enter_input";
  static constexpr auto list = std::make_tuple(field("form", &T::form, kRequired),
                                               field("units", &T::units),
                                               field("body", &T::body),
                                               field("typed", &T::typed));
};
template <>
struct Table<api::EnterOutput> {
  using T = api::EnterOutput;
  static constexpr std::string_view name = "enter_output";
  static constexpr auto list =
      std::make_tuple(field("body", &T::body, kRequired), field("errors", &T::errors, kRequired));
};

}  // namespace drawoff::fields
