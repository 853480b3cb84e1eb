// The field tables of view_screen.h.
#pragma once

#include "api/view_screen.h"

namespace drawoff::fields {

template <>
struct EnumTable<api::HeadlineKind> {
  static constexpr std::string_view name = "headline_kind";
  static constexpr std::array list = {choice(api::HeadlineKind::kPlain, "plain"),
                                      choice(api::HeadlineKind::kGood, "good"),
                                      choice(api::HeadlineKind::kRemark, "remark"),
                                      choice(api::HeadlineKind::kFault, "fault"),
                                      choice(api::HeadlineKind::kNeeds, "needs")};
};
template <>
struct EnumTable<api::JobLine::Kind> {
  static constexpr std::string_view name = "line_kind";
  static constexpr std::array list = {choice(api::JobLine::Kind::kTitle, "title"),
                                      choice(api::JobLine::Kind::kHeading, "heading"),
                                      choice(api::JobLine::Kind::kText, "text"),
                                      choice(api::JobLine::Kind::kCaution, "caution"),
                                      choice(api::JobLine::Kind::kRow, "row")};
};
template <>
struct EnumTable<paper::Ink> {
  static constexpr std::string_view name = "ink";
  static constexpr std::array list = {choice(paper::Ink::kNone, "none"),
                                      choice(paper::Ink::kLine, "line"),
                                      choice(paper::Ink::kQuiet, "quiet"),
                                      choice(paper::Ink::kPaper, "paper"),
                                      choice(paper::Ink::kRaw, "raw"),
                                      choice(paper::Ink::kProduct, "product"),
                                      choice(paper::Ink::kReject, "reject"),
                                      choice(paper::Ink::kBand, "band"),
                                      choice(paper::Ink::kMarked, "marked")};
};

template <>
struct Table<api::WhatIf> {
  using T = api::WhatIf;
  static constexpr std::string_view name = "what_if";
  static constexpr auto list =
      std::make_tuple(field("temperature_C", &T::temperature, Range{1, 40}),
                      field("supply_pressure_bar", &T::supply_pressure, Range{0, 12}),
                      field("restrictor_pct", &T::restrictor, Range{10, 500}),
                      field("blend_opening_pct", &T::blend_opening, Range{0, 100}));
};
template <>
struct Table<api::ViewInput> {
  using T = api::ViewInput;
  static constexpr std::string_view name = "view_input";
  static constexpr auto list = std::make_tuple(field("site_file", &T::site_file, kRequired),
                                               field("units", &T::units),
                                               field("what_if", &T::what_if),
                                               field("text", &T::text, Range{1, 2}),
                                               field("at", &T::at));
};
template <>
struct Table<api::LineOutput> {
  using T = api::LineOutput;
  static constexpr std::string_view name = "line_output";
  static constexpr auto list =
      std::make_tuple(field("kind", &T::kind, kRequired), field("cells", &T::cells, kRequired));
};
template <>
struct Table<api::ShapeOutput> {
  using T = api::ShapeOutput;
  static constexpr std::string_view name = "shape_output";
  static constexpr auto list = std::make_tuple(field("d", &T::d, kRequired),
                                               field("ink", &T::ink, kRequired),
                                               field("fill", &T::fill, kRequired),
                                               field("width", &T::width, kRequired),
                                               field("dashed", &T::dashed, kRequired),
                                               field("part", &T::part, kRequired));
};
template <>
struct Table<api::SlotOutput> {
  using T = api::SlotOutput;
  static constexpr std::string_view name = "slot";
  static constexpr auto list = std::make_tuple(field("x", &T::x, kRequired),
                                               field("y", &T::y, kRequired),
                                               field("width", &T::width, kRequired),
                                               field("height", &T::height, kRequired));
};
template <>
struct Table<api::PartOutput> {
  using T = api::PartOutput;
  static constexpr std::string_view name = "part_output";
  static constexpr auto list = std::make_tuple(field("id", &T::id, kRequired),
                                               field("path", &T::path, kRequired),
                                               field("name", &T::name, kRequired),
                                               field("detail", &T::detail, kRequired),
                                               field("explains", &T::explains, kRequired),
                                               field("about", &T::about, kRequired),
                                               field("points", &T::points, kRequired),
                                               field("frame", &T::frame, kRequired),
                                               field("slot", &T::slot, kRequired));
};
template <>
struct Table<api::UnitOutput> {
  using T = api::UnitOutput;
  static constexpr std::string_view name = "unit_output";
  static constexpr auto list =
      std::make_tuple(field("value", &T::value, kRequired), field("label", &T::label, kRequired));
};
template <>
struct Table<api::LastOutput> {
  using T = api::LastOutput;
  static constexpr std::string_view name = "last_output";
  static constexpr auto list = std::make_tuple(field("value", &T::value, kRequired),
                                               field("unit", &T::unit, kRequired),
                                               field("text", &T::text, kRequired),
                                               field("at", &T::at, kRequired));
};
template <>
struct Table<api::PointOutput> {
  using T = api::PointOutput;
  static constexpr std::string_view name = "point_output";
  static constexpr auto list =
      std::make_tuple(field("point", &T::point, kRequired),
                      field("order", &T::order, kRequired),
                      field("x", &T::x, kRequired),
                      field("y", &T::y, kRequired),
                      field("slot", &T::slot, kRequired),
                      field("name", &T::name, kRequired),
                      field("how", &T::how, kRequired),
                      field("units", &T::units, kRequired),
                      field("expected", &T::expected, kRequired),
                      field("band", &T::band, kRequired, kNullWhenAbsent),
                      field("likely", &T::likely, kRequired),
                      field("reading", &T::reading, kRequired),
                      field("value", &T::value, kRequired, kNullWhenAbsent),
                      field("unit", &T::unit, kRequired, kNullWhenAbsent),
                      field("entry", &T::entry, kRequired),
                      field("fit", &T::fit, kRequired),
                      field("outside", &T::outside, kRequired),
                      field("band_from", &T::band_from, kRequired, kNullWhenAbsent),
                      field("band_to", &T::band_to, kRequired, kNullWhenAbsent),
                      field("mark", &T::mark, kRequired, kNullWhenAbsent),
                      field("last", &T::last, kRequired, kNullWhenAbsent),
                      field("not_possible", &T::not_possible, kRequired),
                      field("not_possible_entry", &T::not_possible_entry, kRequired),
                      field("like", &T::like, kRequired),
                      field("working", &T::working, kRequired));
};
template <>
struct Table<api::SceneOutput> {
  using T = api::SceneOutput;
  static constexpr std::string_view name = "scene_output";
  static constexpr auto list = std::make_tuple(field("width", &T::width, kRequired),
                                               field("height", &T::height, kRequired),
                                               field("shapes", &T::shapes, kRequired),
                                               field("parts", &T::parts, kRequired),
                                               field("points", &T::points, kRequired));
};
template <>
struct Table<api::SliderOutput> {
  using T = api::SliderOutput;
  static constexpr std::string_view name = "slider_output";
  static constexpr auto list = std::make_tuple(field("key", &T::key, kRequired),
                                               field("label", &T::label, kRequired),
                                               field("low", &T::low, kRequired),
                                               field("high", &T::high, kRequired),
                                               field("step", &T::step, kRequired),
                                               field("value", &T::value, kRequired),
                                               field("shown", &T::shown, kRequired));
};
template <>
struct Table<api::NextOutput> {
  using T = api::NextOutput;
  static constexpr std::string_view name = "next_output";
  static constexpr auto list = std::make_tuple(field("point", &T::point, kRequired),
                                               field("sentence", &T::sentence, kRequired));
};
template <>
struct Table<api::AssumedOutput> {
  using T = api::AssumedOutput;
  static constexpr std::string_view name = "assumed_output";
  static constexpr auto list =
      std::make_tuple(field("path", &T::path, kRequired), field("label", &T::label, kRequired));
};
template <>
struct Table<api::PhotoOutput> {
  using T = api::PhotoOutput;
  static constexpr std::string_view name = "photo_output";
  static constexpr auto list = std::make_tuple(field("entry", &T::entry, kRequired),
                                               field("at", &T::at, kRequired),
                                               field("photo", &T::photo, kRequired));
};
template <>
struct Table<api::HeldOutput> {
  using T = api::HeldOutput;
  static constexpr std::string_view name = "held_output";
  static constexpr auto list = std::make_tuple(field("entry", &T::entry, kRequired),
                                               field("at", &T::at, kRequired),
                                               field("body", &T::body, kRequired));
};
template <>
struct Table<api::MakeUpOutput> {
  using T = api::MakeUpOutput;
  static constexpr std::string_view name = "make_up_output";
  static constexpr auto list = std::make_tuple(field("key", &T::key, kRequired),
                                               field("name", &T::name, kRequired),
                                               field("positive", &T::positive, kRequired),
                                               field("share_pct", &T::share, kRequired),
                                               field("amount", &T::amount, kRequired));
};
template <>
struct Table<api::SurveyedRaw> {
  using T = api::SurveyedRaw;
  static constexpr std::string_view name = "surveyed_raw";
  static constexpr auto list = std::make_tuple(field("low_uS_cm", &T::low, kRequired),
                                               field("middle_uS_cm", &T::middle, kRequired),
                                               field("high_uS_cm", &T::high, kRequired));
};
template <>
struct Table<api::ViewOutput> {
  using T = api::ViewOutput;
  static constexpr std::string_view name = "view_output";
  static constexpr auto list =
      std::make_tuple(field("name", &T::name, kRequired),
                      field("note", &T::note, kRequired),
                      field("site", &T::site, kRequired, kNullWhenAbsent),
                      field("survey", &T::survey, kRequired, kNullWhenAbsent),
                      field("machine", &T::machine, kRequired, kNullWhenAbsent),
                      field("headline_kind", &T::headline_kind, kRequired),
                      field("headline", &T::headline, kRequired),
                      field("detail", &T::detail, kRequired),
                      field("lines", &T::lines, kRequired),
                      field("make_up", &T::make_up, kRequired),
                      field("raw_conductivity_25_uS_cm", &T::raw),
                      field("surveyed", &T::surveyed),
                      field("scene", &T::scene, kRequired, kNullWhenAbsent),
                      field("sliders", &T::sliders, kRequired),
                      field("next", &T::next, kRequired, kNullWhenAbsent),
                      field("assumed", &T::assumed, kRequired),
                      field("photos", &T::photos, kRequired),
                      field("handed_over", &T::handed_over, kRequired, kNullWhenAbsent),
                      field("handed_over_says", &T::handed_over_says, kRequired),
                      field("before_drinking", &T::before_drinking, kRequired),
                      field("warnings", &T::warnings, kRequired));
};
template <>
struct Table<api::JudgeInput> {
  using T = api::JudgeInput;
  static constexpr std::string_view name = "judge_input";
  static constexpr auto list =
      std::make_tuple(field("likely", &T::likely, Range{50, 2000}, kRequired),
                      field("like", &T::like, kRequired),
                      field("reading", &T::reading, kRequired),
                      field("raw_conductivity_25_uS_cm", &T::raw),
                      field("surveyed", &T::surveyed));
};
template <>
struct Table<api::JudgeOutput> {
  using T = api::JudgeOutput;
  static constexpr std::string_view name = "judge_output";
  static constexpr auto list =
      std::make_tuple(field("reading", &T::reading, kRequired),
                      field("expected", &T::expected, kRequired),
                      field("band", &T::band, kRequired, kNullWhenAbsent),
                      field("fit", &T::fit, kRequired),
                      field("question", &T::question, kRequired),
                      field("outside", &T::outside, kRequired),
                      field("band_from", &T::band_from, kRequired, kNullWhenAbsent),
                      field("band_to", &T::band_to, kRequired, kNullWhenAbsent),
                      field("mark", &T::mark, kRequired, kNullWhenAbsent));
};

}  // namespace drawoff::fields
