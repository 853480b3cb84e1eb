#include "api/form_screen.h"

#include <algorithm>
#include <initializer_list>
#include <iterator>
#include <span>

#include "api/hold_question.h"
#include "api/report_question.h"
#include "api/sanitise_question.h"
#include "book/handed_over.h"
#include "book/site_name.h"
#include "machine/plates_fields.h"
#include "membrane/sizes.h"
#include "visit/blend_work.h"
#include "visit/found.h"
#include "visit/meter_check.h"
#include "visit/quick_check.h"
#include "visit/survey.h"

namespace drawoff::api {

namespace {

// Calls `use` with a null pointer to the struct behind a form.
template <class Use>
auto with_struct(FormName form, Use use) {
  switch (form) {
    case FormName::kSite:
      return use(static_cast<const book::SiteName*>(nullptr));
    case FormName::kSurvey:
      return use(static_cast<const visit::SurveyEntry*>(nullptr));
    case FormName::kKnown:
      return use(static_cast<const visit::KnownWaterEntry*>(nullptr));
    case FormName::kReport:
      return use(static_cast<const ReportInput*>(nullptr));
    case FormName::kMachine:
      return use(static_cast<const machine::MachineEntry*>(nullptr));
    case FormName::kMeter:
      return use(static_cast<const visit::CheckedMeter*>(nullptr));
    case FormName::kReading:
      return use(static_cast<const visit::ReadingEntry*>(nullptr));
    case FormName::kFound:
      return use(static_cast<const visit::FoundEntry*>(nullptr));
    case FormName::kBlend:
      return use(static_cast<const visit::BlendWorkEntry*>(nullptr));
    case FormName::kBlendTurn:
      return use(static_cast<const visit::BlendTurnEntry*>(nullptr));
    case FormName::kBlendLeft:
      return use(static_cast<const visit::BlendLeftEntry*>(nullptr));
    case FormName::kHold:
      return use(static_cast<const HoldInput*>(nullptr));
    case FormName::kSanitise:
      return use(static_cast<const SanitiseInput*>(nullptr));
    case FormName::kHandedOver:
      return use(static_cast<const book::HandedOverEntry*>(nullptr));
    case FormName::kQuick:
      break;
  }
  return use(static_cast<const visit::QuickCheck*>(nullptr));
}

// What holds where a plate is silent (machine/plates.h); the table knows no default for these.
struct Usual {
  std::string_view path;
  double si;
};
constexpr Usual kUsual[] = {
    {"element.rejection_pct", machine::kUsualRejection},
    {"element.test_salt_mg_L", machine::kUsualTestSalt.si()},
    {"element.test_temperature_C", machine::kUsualTestTemperature.si()},
    {"element.test_recovery_pct", machine::kUsualTestRecovery},
    {"restrictor.pressure_bar", machine::kUsualRestrictorPressure.si()},
    {"housing_rating_bar", machine::kUsualHousingRating.si()},
};

// Parts of a machine that most do not have; the others are asked with the rest.
constexpr std::string_view kRare[] = {"raw_tank",
                                      "regulator",
                                      "solenoid",
                                      "low_pressure_switch",
                                      "flush_valve",
                                      "recirculation",
                                      "hydraulic_shut_off",
                                      "high_pressure_switch"};

// What the tables of these structs do not say about themselves: trade sizes are a list, and plates
// that are silent have usual values.
void complete(fields::Form& form,
              FormName name,
              fields::UnitSystem units,
              std::string_view language) {
  for (fields::FormField& f : form.fields) {
    const bool size = (name == FormName::kMachine && f.path == "element.size") ||
                      (name == FormName::kQuick && f.path == "size");
    if (size) {
      f.kind = fields::FormKind::kChoice;
      for (const auto& s : membrane::element_sizes()) f.choices.push_back({s.name, s.name});
    }
    // A test has a result, or a strip's two colours and the wait before they are read.
    f.front = name == FormName::kKnown &&
              (f.path.ends_with(".value_mg_L") || f.path.ends_with(".low_mg_L") ||
               f.path.ends_with(".high_mg_L") || f.path.ends_with(".wait_s"));
    if (name != FormName::kMachine) continue;
    f.rare = std::find(std::begin(kRare), std::end(kRare), f.path) != std::end(kRare);
    for (const Usual& usual : kUsual) {
      if (f.path != usual.path) continue;
      const auto* unit = units::unit_of_key(usual.path);
      f.usually =
          fields::shown_number(units::from_si_shortest(*unit, usual.si), unit, units, language);
    }
  }
}

// Text of a member, "" where there is none.
std::string text_at(const fields::Json& json, std::initializer_list<const char*> keys) {
  const fields::Json* at = &json;
  for (const char* key : keys) {
    if (!at->is_object() || !at->contains(key)) return {};
    at = &(*at)[key];
  }
  const auto* text = at->get_ptr<const std::string*>();
  return text == nullptr ? std::string() : *text;
}

// What a gauge is not asked, and what only a gauge is asked.
constexpr std::string_view kOfPens[] = {"meter.compensates",
                                        "meter.instrument.scale",
                                        "meter.instrument.calibrated_factor",
                                        "meter.instrument.digits",
                                        "checks",
                                        "raw",
                                        "product"};
constexpr std::string_view kOfGauges[] = {"gauge_checks", "inlet", "membrane", "hold"};
bool empty(const fields::FormField& f) {
  return f.shown.empty() || (f.kind == fields::FormKind::kList && f.shown == "0");
}

void complete_gauge(fields::Form& form, const messages::Catalogue& words) {
  std::string against;  // of the check that is gone through
  std::erase_if(form.fields, [&](const fields::FormField& f) {
    if (f.path.ends_with("].against")) against = f.shown;
    return empty(f) && ((against != "gauge" && (f.path.ends_with("].other_bar") ||
                                                f.path.ends_with("].other_off_bar"))) ||
                        (against != "column" && f.path.ends_with("].column_m")));
  });
  for (fields::FormField& f : form.fields) {
    // A dial has a class and marks, and no digits.
    if (f.path == "meter.instrument.of_full_scale_pct") {
      f.label = messages::render(words, {"label.gauge.class"});
    } else if (f.path == "meter.instrument.last_digit") {
      f.label = messages::render(words, {"label.gauge.mark"});
    }
    f.front = f.front || f.path == "meter.instrument.full_scale" ||
              f.path == "meter.instrument.of_full_scale_pct" ||
              f.path == "meter.instrument.last_digit" || f.path.ends_with("].other_bar") ||
              f.path.ends_with("].column_m");
  }
}

// Of a meter and its checks: what fits what it reads, the numbers of its display in its unit. What
// does not fit is asked only where it is there, so that it can be taken away.
void complete_meter(fields::Form& form,
                    const fields::Json& body,
                    const messages::Catalogue& words) {
  const std::string reads = text_at(body, {"meter", "reads"});
  const bool ph = reads == "pH";
  const bool gauge = reads == "bar" || reads == "kPa" || reads == "psi";
  const bool ppm = reads == "ppm";
  const bool calibrated = ppm && text_at(body, {"meter", "instrument", "scale"}) == "calibrated";
  const auto* unit = ph ? nullptr : units::unit_of_key(reads);
  std::erase_if(form.fields, [&](const fields::FormField& f) {
    if (f.path == "on") return true;
    if (!empty(f)) return false;
    const std::span<const std::string_view> others =
        gauge ? std::span(kOfPens) : std::span<const std::string_view>(kOfGauges);
    if (std::find(others.begin(), others.end(), f.path) != others.end()) return true;
    return (ph && f.path.ends_with(".standard_uS_cm")) || (!ph && f.path.ends_with(".buffer_pH")) ||
           (!ppm && f.path.ends_with(".scale")) ||
           (!calibrated && f.path.ends_with(".calibrated_factor"));
  });
  for (fields::FormField& f : form.fields) {
    f.front = f.path == "meter.instrument.name" || f.path.ends_with(".scale") ||
              f.path.ends_with(".calibrated_factor") || f.path.ends_with(".standard_uS_cm") ||
              f.path.ends_with(".buffer_pH");
    const bool shows = f.path == "raw" || f.path == "product" || f.path == "inlet" ||
                       f.path == "membrane" || f.path == "hold" || f.path.ends_with(".shown") ||
                       f.path.ends_with(".full_scale") || f.path.ends_with(".last_digit");
    if (shows && unit != nullptr) f.unit = unit->symbol;
    // Nothing entered is no accuracy of 0: then the usual one holds.
    if (f.kind == fields::FormKind::kNumber && !f.front) f.usually.clear();
  }
  if (gauge) complete_gauge(form, words);
}

// What a form's struct holds and the form does not ask: where readings stand in place of the
// analysis, the analysis; of questions about the site's machine, the machine.
std::string_view left_out(FormName form, const fields::Json& body) {
  if (form == FormName::kHold || form == FormName::kSanitise) return "machine";
  return form == FormName::kSurvey && text_at(body, {"basis"}) == "readings" ? "water" : "";
}

template <class T>
void leave_out(std::string_view part, std::vector<T>& all) {
  if (part.empty()) return;
  std::erase_if(all, [&](const T& one) {
    return one.path == part || one.path.starts_with(std::string(part) + ".");
  });
}

}  // namespace

base::Result<fields::Form> ask_form(const FormInput& in,
                                    Working& /*working*/,
                                    const messages::Catalogue& words) {
  auto form = with_struct(in.form, [&]<class T>(const T* /*form*/) {
    return fields::form<T>(in.body.json, in.units, words);
  });
  complete(form, in.form, in.units, words.language());
  if (in.form == FormName::kMeter) complete_meter(form, in.body.json, words);
  const auto part = left_out(in.form, in.body.json);
  leave_out(part, form.fields);
  leave_out(part, form.errors);
  return form;
}

base::Result<EnterOutput> ask_enter(const EnterInput& in,
                                    Working& /*working*/,
                                    const messages::Catalogue& words) {
  auto filled = with_struct(in.form, [&]<class T>(const T* /*form*/) {
    return fields::fill<T>(in.body.json, in.typed, in.units, words);
  });
  leave_out(left_out(in.form, filled.body), filled.errors);
  return EnterOutput{.body = {std::move(filled.body)}, .errors = std::move(filled.errors)};
}

}  // namespace drawoff::api
