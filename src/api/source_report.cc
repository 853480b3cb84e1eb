#include "api/source_report.h"

#include <algorithm>
#include <cmath>

#include "api/machine_question_fields.h"
#include "api/make_up.h"
#include "api/path_view.h"
#include "messages/number.h"
#include "water/conductivity.h"
#include "water/speciation.h"

namespace drawoff::api {
namespace {

using base::Message;
using base::Number;
using base::Ref;
using paper::Block;
using paper::Size;
using paper::Weight;

// Lines of small type beside the rows and the picture of a water.
constexpr std::size_t kLinesBeside = 18;
constexpr double kTrace = 0.1e-3;  // kg/m³: limits below are shown in µg/L

class Page {
 public:
  Page(const SiteState& state,
       const JudgedSource& source,
       const PaperOptions& options,
       const messages::Catalogue& words,
       std::size_t rows)
      : state_(state), source_(source), options_(options), words_(words), rows_(rows) {}

  paper::Document document() const {
    const bool letter = options_.page == PageName::kLetter;
    const std::string& on = survey().on;
    const std::string day = on.empty() ? state_.survey->at.substr(0, 10) : on;
    paper::Document doc{.title = say("paper.source"),
                        .language = words_.language(),
                        .right_to_left = messages::right_to_left(words_.language())};
    doc.page = letter ? paper::kLetter : paper::kA4;
    doc.page.margin = 10;
    doc.made = state_.survey->at;
    const Message below{"paper.record_below", {{"title", state_.site->body.name}, {"date", day}}};
    doc.blocks.push_back(paper::Title{.text = doc.title, .below = say(below)});
    doc.blocks.push_back(paper::Heading{say("job.heading.verdict")});
    doc.blocks.push_back(paper::Text{.text = say(Message{"job.verdict." + name_of(v().warranted)}),
                                     .weight = Weight::kBold});
    doc.blocks.push_back(small(v().reasons));
    paper::Side left{.share = 0.9, .blocks = water()};
    paper::Side right{.share = 1, .blocks = {paper::Heading{say("job.heading.front")}}};
    right.blocks.push_back(small(v().pre_treatment));
    if (!v().behind.empty()) {
      right.blocks.push_back(paper::Heading{say("job.heading.behind")});
      std::vector<Message> behind;
      for (const Message& m : v().behind) behind.push_back(in_units(m, options_.units));
      right.blocks.push_back(small(behind));
    }
    if (v().reject) {
      // In the shorter column.
      auto& column =
          lines_of(v().pre_treatment) + lines_of(v().behind) > kLinesBeside ? left : right;
      column.blocks.push_back(paper::Heading{say("job.heading.reject")});
      column.blocks.push_back(small(v().reject->words));
    }
    doc.blocks.push_back(paper::Beside{.sides = {std::move(left), std::move(right)}});
    substances(doc);
    std::string cautions;
    for (const Message& m : v().cautions) cautions += (cautions.empty() ? "" : "\n") + say(m);
    doc.blocks.push_back(paper::Caution{
        .word = say("paper.caution"), .text = std::move(cautions), .size = Size::kSmall});
    doc.footer = foot(say(below) + " · " +
                          say(Message{"paper.footer", {{"version", std::string(kEngineVersion)}}}),
                      words_);
    return doc;
  }

 private:
  const visit::SurveyEntry& survey() const { return state_.survey->body; }
  const visit::SourceVerdict& v() const { return source_.verdict; }
  std::string say(const Message& m) const { return messages::render(words_, m); }
  std::string say(const char* id) const { return say(Message{id}); }
  template <class E>
  static std::string name_of(E value) {
    return std::string(fields::name_of(value));
  }
  template <class E>
  std::string choice(E value) const {
    return say(Message{"choice." + std::string(fields::EnumTable<E>::name) + "." + name_of(value)});
  }
  std::string number(double value, const char* unit, int digits) const {
    return messages::format_quantity({value, unit, digits}, words_.language());
  }

  // About how many lines of small type a column needs for them.
  std::size_t lines_of(const std::vector<Message>& messages) const {
    constexpr std::size_t kLine = 68;  // characters
    std::size_t lines = 0;
    for (const Message& m : messages) lines += 1 + say(m).size() / kLine;
    return lines;
  }

  Block small(const std::vector<Message>& messages) const {
    std::string text;
    for (const Message& m : messages) text += (text.empty() ? "" : "\n") + say(m);
    return paper::Text{.text = std::move(text), .size = Size::kSmall};
  }

  // What is known of the water: where from, how strong, of what.
  std::vector<Block> water() const {
    std::vector<paper::Row> rows;
    const visit::SurveyEntry& s = survey();
    rows.push_back({say("paper.water"), choice(s.source)});
    rows.push_back(
        {say("paper.water_known"),
         s.basis == visit::SurveyBasis::kAnalysis ? choice(s.analysed_by) : choice(s.basis)});
    if (!s.analysed_on.empty()) rows.push_back({say("label.survey.analysed_on"), s.analysed_on});
    for (const visit::FurtherSource& f : s.further) {
      rows.push_back({say("paper.further"), f.name + ", " + choice(f.source)});
    }
    const auto& members = source_.water.members;
    const auto over = [&](auto of, const char* unit, int digits) {
      std::vector<double> values;
      for (const auto& m : members) values.push_back(of(m));
      const auto [low, high] = std::minmax_element(values.begin(), values.end());
      return *high - *low < 0.01 * std::fabs(*high)
                 ? number(*low, unit, digits)
                 : say(Message{
                       "job.band",
                       {{"low", Number{*low, "", digits}}, {"high", Number{*high, unit, digits}}}});
    };
    rows.push_back(
        {say("known.conductivity_25"),
         over([](const auto& m) { return water::conductivity_25(m).si() * 1e4; }, "µS/cm", 3)});
    if (s.basis != visit::SurveyBasis::kMeter) {
      const auto temperature = source_.water.temperature;
      rows.push_back(
          {say("known.pH"),
           over(
               [&](const auto& m) { return water::closed_speciation(m, temperature).ph; }, "", 2)});
      rows.push_back(
          {say("known.hardness"),
           over([](const auto& m) { return water::hardness(m).si() * 1e3; }, "mg/L", 3)});
      rows.push_back(
          {say("known.alkalinity"),
           over([](const auto& m) { return water::alkalinity(m).si() * 1e3; }, "mg/L", 3)});
    }
    for (const visit::Scale& scale : v().scales) {
      // Worth a line: what is likely, or might be fast.
      if (scale.likely == visit::ScaleGrade::kNone && scale.high < visit::ScaleGrade::kFast)
        continue;
      std::string text = choice(scale.likely);
      if (scale.low != scale.high) {
        text = say(Message{"paper.scale_range",
                           {{"likely", choice(scale.likely)},
                            {"low", choice(scale.low)},
                            {"high", choice(scale.high)}}});
      }
      rows.push_back(
          {say(Message{"paper.scale", {{"solid", Ref{"mineral." + name_of(scale.mineral)}}}}),
           std::move(text)});
    }
    std::vector<Block> blocks{paper::Heading{say("paper.the_water")},
                              paper::Rows{.rows = std::move(rows), .name_share = 0.4}};
    if (s.basis != visit::SurveyBasis::kMeter) {
      constexpr double kWide = 82;  // [mm]
      blocks.push_back(paper::Figure{make_up_drawing(ion_shares(members), kWide, words_)});
    }
    return blocks;
  }

  // Those that matter first; the rest are below their limits.
  void substances(paper::Document& doc) const {
    std::vector<const visit::SubstanceVerdict*> order;
    for (const auto& s : v().substances) order.push_back(&s);
    std::stable_sort(order.begin(), order.end(), [](const auto* a, const auto* b) {
      return (a->standing != visit::Standing::kBelow) > (b->standing != visit::Standing::kBelow);
    });
    paper::Table table;
    table.columns = {{.head = say("paper.substance"), .share = 1.5},
                     {.head = say("paper.raw"), .share = 1.1, .align = paper::Align::kEnd},
                     {.head = say("paper.limit"), .share = 1.6, .align = paper::Align::kEnd},
                     {.head = say("paper.product"), .share = 1.8, .align = paper::Align::kEnd},
                     {.head = say("paper.evidence"), .share = 1.3}};
    std::size_t left_out = 0;
    for (const auto* s : order) {
      if (table.rows.size() >= rows_ && s->standing == visit::Standing::kBelow) {
        ++left_out;
        continue;
      }
      const bool over = s->standing != visit::Standing::kBelow;
      // Traces by their own unit, so that no row counts zeros.
      const bool trace = s->limit.value.si() < kTrace;
      const auto amount = [&](units::Density d, int digits) {
        const double value = messages::rounded(d.si() * (trace ? 1e6 : 1e3), digits);
        return Number{value, trace ? "µg/L" : "mg/L", std::min(digits, messages::digits_of(value))};
      };
      const auto said = [&](units::Density d) {
        return messages::format_quantity(amount(d, 3), words_.language());
      };
      // Of what is only below a bound nothing is known but that: it may be as much.
      const auto at_most = [&](units::Density half) {
        return say(Message{"paper.below", {{"bound", amount(half + half, 2)}}});
      };
      const units::Density stated = s->stated.value_or(s->raw);
      std::string raw = s->below ? at_most(stated) : said(stated);
      if (over && !s->below && visit::was_moved(*s)) {
        raw += "\n" + say(Message{"paper.judged_as", {{"value", amount(s->raw, 3)}}});
      }
      const std::string product = s->below ? at_most(s->product_high)
                                           : say(Message{"survey_water.field",
                                                         {{"low", amount(s->product_low, 1)},
                                                          {"high", amount(s->product_high, 2)}}});
      const auto memory = s->limit.confidence == visit::LimitConfidence::kMemory ? " *" : "";
      table.rows.push_back(
          {{say(Message{"substance." + s->limit.substance}),
            over ? Weight::kBold : Weight::kRegular},
           {raw, over ? Weight::kBold : Weight::kRegular},
           {said(s->limit.value) + ", " +
            say(Message{"job.reading", {{"value", visit::authority_of(s->limit)}}}) + memory},
           {product},
           {choice(s->evidence)}});
    }
    if (table.rows.empty()) return;
    doc.blocks.push_back(std::move(table));
    std::string note = say("paper.from_memory");
    if (left_out > 0) {
      const auto n = static_cast<double>(left_out);
      note +=
          " " + say(Message{"paper.more_below", {{"n", Number{n, "", messages::digits_of(n)}}}});
    }
    doc.blocks.push_back(paper::Text{.text = std::move(note), .size = Size::kSmall});
  }

  const SiteState& state_;
  const JudgedSource& source_;
  const PaperOptions& options_;
  const messages::Catalogue& words_;
  std::size_t rows_;  // of substances, but for those that are over or near a limit
};

}  // namespace

base::Result<paper::Printed> print_source_report(const SiteState& state,
                                                 const JudgedSource& source,
                                                 const PaperOptions& options,
                                                 const messages::Catalogue& words,
                                                 const paper::Fonts& fonts) {
  constexpr std::size_t kMost = 12;
  constexpr std::size_t kFewest = 4;
  constexpr std::size_t kStep = 2;
  for (std::size_t rows = kMost;; rows -= kStep) {
    const Page page(state, source, options, words, rows);
    TRY(paper::Printed printed, paper::print(page.document(), fonts));
    if (printed.pages == 1 || rows <= kFewest) return printed;
  }
}

}  // namespace drawoff::api
