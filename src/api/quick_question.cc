#include "api/quick_question.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "api/say.h"
#include "fields/write.h"
#include "messages/number.h"

namespace drawoff::api {

namespace {

using base::Message;
using base::Number;
using base::Ref;
using machine::Point;
using visit::ReadingEntry;

const visit::JudgedReading* reading_at(const visit::StartUp& s, Point point) {
  const auto found = std::find_if(s.readings.begin(), s.readings.end(), [&](const auto& r) {
    return r.reading.point == point;
  });
  return found == s.readings.end() ? nullptr : &*found;
}

const visit::Forecast* forecast_at(const visit::StartUp& s, Point point) {
  const auto found = std::find_if(s.forecasts.begin(),
                                  s.forecasts.end(),
                                  [&](const visit::Forecast& f) { return f.like.point == point; });
  return found == s.forecasts.end() ? nullptr : &*found;
}

// One line of the answer: what was read, or that nothing was, against what is expected.
Message line(const char* read_id,
             const char* unread_id,
             const visit::Forecast& expected,
             const visit::JudgedReading* read) {
  const Message band = band_of(expected.expected, expected.like);
  Message out{read != nullptr && read->judgement ? read_id : unread_id};
  out.arguments = band.arguments;
  if (read != nullptr && read->judgement) {
    out.arguments.emplace_back("read", number_of(read->reading));
    out.arguments.emplace_back("fit",
                               Ref{"fit." + std::string(fields::name_of(read->judgement->fit))});
  }
  return out;
}

Message what_now(const visit::StartUp& s) {
  using visit::StartUpStanding;
  switch (s.standing) {
    case StartUpStanding::kCannotRun:
      return {s.outcome == machine::Outcome::kRuns
                  ? "job.standing.cannot_run"
                  : "job.outcome." + std::string(fields::name_of(s.outcome))};
    case StartUpStanding::kNoReadings:
      return {"quick.next.read"};
    case StartUpStanding::kAsExpected: {
      const bool all = std::all_of(s.readings.begin(), s.readings.end(), [](const auto& r) {
        return !r.judgement || r.judgement->fit == inference::Fit::kAsExpected;
      });
      return {all ? "quick.next.fits" : "quick.next.nearly"};
    }
    case StartUpStanding::kRemarks:
      return {"quick.next.remarks"};
    case StartUpStanding::kNotYet:
      break;
  }
  if (s.causes.causes.empty()) return {"quick.next.again"};
  const auto& first = s.causes.causes.front();
  if (visit::part_of_cause(first.id).empty()) return {"quick.next.again"};
  // An open blend looks like a bad membrane, and costs nothing to rule out.
  const auto* product = reading_at(s, Point::kProductQuality);
  const bool salty = product != nullptr && product->judgement &&
                     (product->judgement->fit == inference::Fit::kHigh ||
                      product->judgement->fit == inference::Fit::kALittleHigh);
  return {std::string("quick.next.") + (first.alike.empty() ? "cause" : "one_of") +
              (salty ? "_salty" : ""),
          {{"cause", Ref{"cause." + first.id}},
           {"other", Ref{"cause." + (first.alike.empty() ? "none" : first.alike.front())}},
           {"share", percent(first.probability)}}};
}

// Every number of a part of the answer came from one place.
void explain_all(const fields::Json& json,
                 const std::string& at,
                 std::string_view unit,
                 const char* source,
                 Working& working) {
  if (const auto value = fields::detail::number_in(json)) {
    working.add({.result = at,
                 .symbol = at.substr(at.find_last_of('.') + 1),
                 .formula = "x = x",
                 .value = *value,
                 .unit = std::string(unit),
                 .source = source});
    return;
  }
  if (!json.is_structured()) return;
  const auto said = json.is_object() ? json.find("unit") : json.end();
  const auto* beside = json.is_object() && said != json.end()
                           ? units::unit_of_key(*said->get_ptr<const std::string*>())
                           : nullptr;
  std::size_t i = 0;
  for (const auto& [key, value] : json.items()) {
    const auto* own = json.is_object() ? units::unit_of_key(key) : nullptr;
    const std::string_view symbol = own != nullptr      ? own->symbol
                                    : beside != nullptr ? beside->symbol
                                                        : unit;
    const std::string path =
        json.is_array() ? fmt::format("{}[{}]", at, i++) : fmt::format("{}.{}", at, key);
    explain_all(value, path, symbol, source, working);
  }
}

void explain(const QuickOutput& out, const visit::StartUp& s, Working& working) {
  if (!working.asked()) return;
  const auto conductivity = [&](Point point) {
    const auto* read = reading_at(s, point);
    return read == nullptr ? 0.0 : visit::measured(read->reading).value;
  };
  const double raw = conductivity(Point::kRawQuality);
  const double product = conductivity(Point::kProductQuality);
  const fields::Json all = fields::write(out);
  explain_all(all["survey"], "survey", "", "common practice, no source", working);
  explain_all(all["machine"], "machine", "", "common practice, no source", working);
  explain_all(all["readings"], "readings", "", "reading", working);
  const auto draws = static_cast<double>(s.streams.size());
  if (out.expected_product) {
    explain_band(working, "expected_product", *out.expected_product, draws, "jcgm2008");
  }
  if (out.expected_flow) {
    explain_band(working, "expected_flow", *out.expected_flow, draws, "jcgm2008");
  }
  if (out.reduction) {
    working.add({.result = "reduction_pct",
                 .symbol = "R",
                 .formula = "R = 1 − x_product/x_raw",
                 .inputs = {{"x_product", product, "S/m"}, {"x_raw", raw, "S/m"}},
                 .value = *out.reduction * 100,
                 .unit = "%",
                 .source = "definition"});
  }
}

}  // namespace

base::Result<QuickOutput> ask_quick(const visit::QuickCheck& in,
                                    Working& working,
                                    const messages::Catalogue& words) {
  const visit::QuickCase quick = visit::quick_case(in);
  // What would be read next, whether or not it was: product and its flow, into a jug.
  std::vector<ReadingEntry> asked;
  const visit::QuickValue& pen = in.product.unit ? in.product : in.raw;
  for (const auto& [point, value] :
       {std::pair{Point::kProductQuality, pen}, std::pair{Point::kProductFlow, in.product_flow}}) {
    ReadingEntry like{.point = point, .unit = visit::unit_of(value, point)};
    like.instrument.scale = in.scale;
    like.condition.product_to = machine::ProductVessel::kJug;
    asked.push_back(like);
  }
  TRY(const visit::StartUp s,
      visit::judge_start_up(quick.survey, quick.machine, quick.readings, {}, asked));
  QuickOutput out{.standing = s.standing,
                  .survey = quick.survey,
                  .machine = quick.machine,
                  .readings = quick.readings};
  std::vector<Message> lines;
  if (!s.forecasts.empty()) {
    const auto* product = reading_at(s, Point::kProductQuality);
    const auto* flow = reading_at(s, Point::kProductFlow);
    if (const auto* salt = forecast_at(s, Point::kProductQuality)) {
      const bool read = product != nullptr && product->judgement;
      if (read) {
        out.reduction = 1 - visit::measured(product->reading).value /
                                visit::measured(reading_at(s, Point::kRawQuality)->reading).value;
      }
      const bool less = read && *out.reduction > 0;
      lines.push_back(
          line(less ? "quick.salt" : "quick.salt_none", "quick.salt_unread", *salt, product));
      if (less) {
        const double whole = std::round(100 * *out.reduction);
        lines.back().arguments.emplace_back("reduction",
                                            Number{whole, "%", messages::digits_of(whole)});
      }
      out.expected_product = band_in_unit(salt->expected, salt->like.unit);
    }
    if (const auto* stream = forecast_at(s, Point::kProductFlow)) {
      lines.push_back(line("quick.flow", "quick.flow_unread", *stream, flow));
      out.expected_flow = band_in_unit(stream->expected, stream->like.unit);
    }
  }
  lines.push_back(what_now(s));
  for (const Message& m : lines) out.lines.push_back(messages::render(words, m));
  if (!in.temperature.value) {
    out.cautions.push_back(messages::render(words, {"quick.caution.temperature"}));
  }
  out.cautions.push_back(messages::render(words, {"quick.caution.health"}));
  explain(out, s, working);
  return out;
}

}  // namespace drawoff::api
