#include <algorithm>
#include <cmath>

#include "api/machine_question_fields.h"
#include "book/fold.h"
#include "messages/number.h"

namespace drawoff::api {

namespace {

using base::Message;
using base::Number;
using base::Ref;
using Kind = JobLine::Kind;

// ---- From the file to the judged start-up -----------------------------------------------------

struct SiteName {
  std::string name;
  std::string note;
  fields::Json unknown;
};

struct Solved {
  SiteName site;
  visit::SurveyEntry survey;
  machine::MachineEntry machine;
  visit::SourceVerdict verdict;
  visit::StartUp start_up;
  std::vector<Message> warnings;
};

}  // namespace
}  // namespace drawoff::api

namespace drawoff::fields {
template <>
struct Table<api::SiteName> {
  using T = api::SiteName;
  static constexpr std::string_view name = "site";
  static constexpr auto list = std::make_tuple(field("name", &T::name, Range{1, 80}, kRequired),
                                               field("note", &T::note, Range{0, 400}));
  static constexpr auto unknown = &T::unknown;
};
}  // namespace drawoff::fields

namespace drawoff::api {
namespace {

base::Error needs(const char* id) { return {base::ErrorKind::kData, {id}}; }

base::Result<Solved> solve(std::string_view text) {
  fields::ReadContext context;
  TRY(const book::SiteFile file, book::read_site_file(text, context));
  const book::Folded now = book::fold(file);
  if (!now.site) return needs("error.job.no_site");
  if (!now.survey) return needs("error.job.no_survey");
  if (!now.machine) return needs("error.job.no_machine");
  Solved job;
  TRY(job.site, fields::read_at<SiteName>(now.site->body, now.site->path, context));
  TRY(job.survey, fields::read_at<visit::SurveyEntry>(now.survey->body, now.survey->path, context));
  TRY(job.machine,
      fields::read_at<machine::MachineEntry>(now.machine->body, now.machine->path, context));
  std::vector<visit::ReadingEntry> readings;
  for (const book::Current& r : now.readings) {
    TRY(visit::ReadingEntry reading, fields::read_at<visit::ReadingEntry>(r.body, r.path, context));
    readings.push_back(std::move(reading));
  }
  const visit::Sampling sampling;
  TRY(job.start_up, visit::judge_start_up(job.survey, job.machine, readings, sampling));
  TRY(const water::Composition raw, water::speciate(water::analysis_of(job.survey.water)));
  job.verdict = visit::source_verdict(
      job.survey, raw, judged_products(job.survey, job.start_up.products, sampling));
  job.warnings = std::move(context.warnings);
  return job;
}

// ---- In words -----------------------------------------------------------------------------------

Ref point_name(machine::Point p) { return {visit::point_id(p)}; }

template <class E>
std::string key_of(E value) {
  for (const auto& choice : fields::EnumTable<E>::list) {
    if (choice.value == value) return std::string(choice.name);
  }
  return "";
}

// Probabilities are said in whole per cent, and never as certain.
Number percent(double share) {
  const double whole = std::clamp(std::round(100 * share), 1.0, 99.0);
  return {whole, "%", messages::digits_of(whole)};
}

class Lines {
 public:
  void title(Message m) { add(Kind::kTitle, {std::move(m)}); }
  void heading(const char* id) { add(Kind::kHeading, {Message{id}}); }
  void text(Message m) { add(Kind::kText, {std::move(m)}); }
  void caution(Message m) { add(Kind::kCaution, {std::move(m)}); }
  void row(std::vector<Message> cells) { add(Kind::kRow, std::move(cells)); }
  std::vector<JobLine> take() { return std::move(lines_); }

 private:
  void add(Kind kind, std::vector<Message> cells) { lines_.push_back({kind, std::move(cells)}); }
  std::vector<JobLine> lines_;
};

void say_verdict(const Solved& job, Lines& lines) {
  lines.heading("job.heading.verdict");
  lines.text({"job.verdict." + key_of(job.verdict.warranted)});
  for (const Message& m : job.verdict.reasons) lines.text(m);
  lines.heading("job.heading.front");
  for (const Message& m : job.verdict.pre_treatment) lines.text(m);
}

// How a point is shown where nobody has measured it yet: a quality on the scale of the pen that
// read the raw water, all else in the usual unit.
visit::ReadingEntry shown_like(machine::Point point, const visit::StartUp& s) {
  for (const auto& r : s.readings) {
    if (r.reading.point == point) return r.reading;
  }
  visit::ReadingEntry like{.point = point};
  switch (machine::kind_of(point)) {
    case machine::PointKind::kPressure:
      like.unit = visit::ReadingUnit::kBar;
      break;
    case machine::PointKind::kFlow:
      like.unit = visit::ReadingUnit::kLh;
      break;
    case machine::PointKind::kTemperature:
      like.unit = visit::ReadingUnit::kCelsius;
      break;
    case machine::PointKind::kQuality:
      like.unit = visit::ReadingUnit::kMicrosiemens;
      for (const auto& r : s.readings) {
        if (machine::kind_of(r.reading.point) == machine::PointKind::kQuality) {
          like.unit = r.reading.unit;
          like.instrument = r.reading.instrument;
          break;
        }
      }
      break;
  }
  return like;
}

// Two ends with as many decimals as a tenth of their distance deserves.
Message band(double low, double high, const std::string& unit) {
  const double width = std::fmax(std::fabs(high - low), 1e-12);
  const double last = std::floor(std::log10(width / 5));  // power of ten of the last digit shown
  const auto digits = [&](double value) {
    const double first = std::floor(std::log10(std::fmax(std::fabs(value), std::pow(10, last))));
    return std::clamp(static_cast<int>(first - last) + 1, 1, 12);
  };
  return {"job.band",
          {{"low", Number{low, "", digits(low)}}, {"high", Number{high, unit, digits(high)}}}};
}
Message band(double low, double high, const visit::ReadingEntry& like) {
  return band(low, high, std::string(visit::unit_of(like.unit).symbol));
}

// Rows that say something: not the day's water, which stands above them; no membrane pressure of
// its own without a pump, no permeate of its own without a blend.
bool worth_a_row(machine::Point point, const machine::MachineEntry& machine) {
  using machine::Point;
  if (point == Point::kTemperature || point == Point::kRawQuality) return false;
  if (point == Point::kMembranePressure) return machine.pump.has_value();
  if (point == Point::kPermeateQuality) return machine.blend && machine.blend->opening > 0;
  return point != Point::kRejectPressure;
}

void say_expected(const Solved& job, Lines& lines) {
  const visit::StartUp& s = job.start_up;
  lines.heading("job.heading.expected");
  if (s.expected.empty()) {
    lines.text({"job.outcome." + key_of(s.outcome)});
    return;
  }
  const auto water = [&](machine::Point p) {
    const auto& e = s.expected[static_cast<std::size_t>(
        std::find_if(s.expected.begin(),
                     s.expected.end(),
                     [&](const visit::Expectation& x) { return x.point == p; }) -
        s.expected.begin())];
    const auto like = shown_like(p, s);
    return Number{
        visit::as_shown(e.expected.middle, like), std::string(visit::unit_of(like.unit).symbol), 3};
  };
  lines.text({"job.on_water",
              {{"raw", water(machine::Point::kRawQuality)},
               {"temperature", water(machine::Point::kTemperature)}}});
  lines.text({"job.outcome." + key_of(s.outcome)});
  if (s.runs_share < 0.99) {
    lines.text({"job.runs_share", {{"share", percent(s.runs_share)}}});
  }
  lines.row({Message{"job.column.point"}, Message{"job.column.expected"}});
  for (const visit::Expectation& e : s.expected) {
    if (!worth_a_row(e.point, job.machine)) continue;
    const auto like = shown_like(e.point, s);
    lines.row(
        {Message{point_name(e.point).id},
         band(
             visit::as_shown(e.expected.low, like), visit::as_shown(e.expected.high, like), like)});
  }
  const auto share = [](const inference::Interval& i) {
    return band(100 * i.low, 100 * i.high, "%");
  };
  lines.row({Message{"job.row.recovery"}, share(s.recovery)});
  lines.row({Message{"job.row.reduction_ppm"}, share(s.reduction_ppm)});
  lines.row({Message{"job.row.reduction_mass"}, share(s.reduction_mass)});
  if (!s.assumed.empty()) {
    std::string keys;
    for (const auto& key : s.assumed) keys += (keys.empty() ? "" : ", ") + key;
    lines.text({"job.assumed", {{"keys", keys}}});
  }
}

void say_readings(const Solved& job, Lines& lines) {
  const visit::StartUp& s = job.start_up;
  if (s.readings.empty()) return;
  lines.heading("job.heading.readings");
  lines.row({Message{"job.column.point"},
             Message{"job.column.read"},
             Message{"job.column.expected"},
             Message{"job.column.fit"}});
  for (const visit::JudgedReading& r : s.readings) {
    const std::string unit(visit::unit_of(r.reading.unit).symbol);
    std::vector<Message> cells{
        Message{point_name(r.reading.point).id},
        Message{"job.reading",
                {{"value", Number{r.reading.value, unit, messages::digits_of(r.reading.value)}}}}};
    if (r.judgement) {
      cells.push_back(band(r.judgement->expected.low, r.judgement->expected.high, r.reading));
      cells.push_back({"fit." + key_of(r.judgement->fit)});
    } else {
      cells.push_back({"job.no_band"});
      cells.push_back({r.set_aside->arguments.empty() ? r.set_aside->id : "fit.set_aside"});
    }
    lines.row(std::move(cells));
  }
  for (const visit::JudgedReading& r : s.readings) {
    if (r.set_aside && !r.set_aside->arguments.empty()) lines.text(*r.set_aside);
  }
  lines.text({"job.standing." + key_of(s.standing)});
}

// Causes less likely than this are not worth a technician's time.
constexpr double kWorthSaying = 0.05;

void say_causes(const Solved& job, Lines& lines) {
  const visit::StartUp& s = job.start_up;
  if (s.causes.causes.empty()) return;
  lines.heading("job.heading.first");
  bool first = true;
  for (const auto& c : s.causes.causes) {
    if (!first && c.probability < kWorthSaying) break;
    const std::string id = c.id.empty() ? "none" : c.id;
    if (c.alike.empty()) {
      lines.text({first ? "job.most_likely" : "job.or_else",
                  {{"cause", Ref{"cause." + id}}, {"share", percent(c.probability)}}});
    } else {
      lines.text({first ? "job.most_likely_one_of" : "job.or_one_of",
                  {{"share", percent(c.probability)}}});
      lines.text({"job.one_of", {{"cause", Ref{"cause." + id}}}});
      for (const auto& alike : c.alike) {
        lines.text({"job.one_of", {{"cause", Ref{"cause." + alike}}}});
      }
    }
    first = false;
  }
  if (s.next_point) {
    lines.text({"job.next",
                {{"point", point_name(*s.next_point)},
                 {"how", Ref{"how." + key_of(*s.next_point)}},
                 {"minutes",
                  Number{s.causes.next.minutes, "", messages::digits_of(s.causes.next.minutes)}}}});
  }
}

std::vector<JobLine> in_words(const Solved& solved) {
  Lines lines;
  lines.title({"job.title", {{"site", solved.site.name}, {"machine", solved.machine.name}}});
  if (!solved.site.note.empty()) lines.text({"job.note", {{"note", solved.site.note}}});
  say_verdict(solved, lines);
  say_expected(solved, lines);
  say_readings(solved, lines);
  say_causes(solved, lines);
  lines.heading("job.heading.cautions");
  for (const Message& m : solved.verdict.cautions) lines.caution(m);
  for (const char* id : {"caution.electricity", "caution.pressure", "caution.first_water"}) {
    lines.caution({id});
  }
  return lines.take();
}

}  // namespace

base::Result<Job> job(std::string_view site_file, bool explain) {
  TRY(const Solved solved, solve(site_file));
  Working working(explain);
  JobOutput out{.site = solved.site.name};
  out.verdict = verdict_output(solved.verdict, working, "verdict.");
  out.start_up = accept_output(solved.start_up, working, "start_up.");
  Job job{.output = fields::write(out), .lines = in_words(solved), .warnings = solved.warnings};
  if (explain) job.output["working"] = written(working);
  return job;
}

}  // namespace drawoff::api
