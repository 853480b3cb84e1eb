#include "api/make_up.h"

#include <array>
#include <cmath>

#include "messages/number.h"
#include "numerics/sample.h"
#include "water/species.h"

namespace drawoff::api {
namespace {

using water::Species;

constexpr std::array kShown{Species::Ca,
                            Species::Mg,
                            Species::Na,
                            Species::K,
                            Species::NH4,
                            Species::Fe,
                            Species::HCO3,
                            Species::CO3,
                            Species::SO4,
                            Species::Cl,
                            Species::NO3,
                            Species::F};
constexpr double kLeastShare = 0.01;

double meq(const water::Composition& c, Species s) { return std::abs(water::charge_of(s)) * c[s]; }

// "5.7", or "1.2–2.9" where it is not known well.
std::string range_of(const IonShare& i, const messages::Catalogue& words) {
  constexpr double kSure = 0.02;
  const auto number = [&](double value) {
    return messages::format_number(value, 2, words.language());
  };
  return i.meq_L.high - i.meq_L.low < kSure * i.meq_L.middle
             ? number(i.meq_L.middle)
             : number(i.meq_L.low) + "–" + number(i.meq_L.high);
}

paper::Path box(double x, double y, double width, double height, paper::Ink fill) {
  using Kind = paper::Segment::Kind;
  return {.segments = {{Kind::kMove, {x, y}, {}, {}},
                       {Kind::kLine, {x + width, y}, {}, {}},
                       {Kind::kLine, {x + width, y + height}, {}, {}},
                       {Kind::kLine, {x, y + height}, {}, {}},
                       {Kind::kClose, {}, {}, {}}},
          .stroke = {.ink = paper::Ink::kLine, .width = 0.25},
          .fill = fill};
}

}  // namespace

std::vector<IonShare> ion_shares(std::span<const water::Composition> waters) {
  std::vector<IonShare> out;
  double sides[2] = {0, 0};
  for (const Species s : kShown) {
    std::vector<double> values;
    for (const auto& w : waters) values.push_back(meq(w, s));
    const auto ordered = numerics::sorted(values);
    const bool positive = water::charge_of(s) > 0;
    out.push_back({s,
                   positive,
                   {numerics::quantile(ordered, 0.05),
                    numerics::quantile(ordered, 0.5),
                    numerics::quantile(ordered, 0.95)}});
    sides[positive ? 0 : 1] += out.back().meq_L.middle;
  }
  std::erase_if(out, [&](const IonShare& i) {
    return i.meq_L.middle < kLeastShare * sides[i.positive ? 0 : 1] || i.meq_L.middle <= 0;
  });
  return out;
}

std::string amount_in_words(const IonShare& ion, const messages::Catalogue& words) {
  return range_of(ion, words) + "\u00a0meq/L";
}

paper::Drawing make_up_drawing(std::span<const IonShare> shares,
                               double width,
                               const messages::Catalogue& words) {
  constexpr double kBar = 7;
  constexpr double kGap = 1.5;
  constexpr double kType = 2.5;
  constexpr double kLine = 3.4;
  paper::Drawing d{.width = width};
  double longest = 0;
  for (const bool positive : {true, false}) {
    double sum = 0;
    for (const IonShare& i : shares) sum += i.positive == positive ? i.meq_L.middle : 0;
    longest = std::fmax(longest, sum);
  }
  if (longest <= 0) return d;
  double y = 0;
  for (const bool positive : {true, false}) {
    double x = 0;
    bool shaded = false;
    for (const IonShare& i : shares) {
      if (i.positive != positive) continue;
      const double wide = width * i.meq_L.middle / longest;
      d.items.push_back(box(x, y, wide, kBar, shaded ? paper::Ink::kBand : paper::Ink::kPaper));
      const std::string& key = water::species_data(i.species).key;
      if (wide > kType * (0.7 * static_cast<double>(key.size()) + 0.4)) {
        d.items.push_back(paper::Words{.at = {x + wide / 2, y + kBar / 2 + 0.35 * kType},
                                       .text = key,
                                       .size = kType,
                                       .align = paper::Align::kMiddle});
      }
      x += wide;
      shaded = !shaded;
    }
    y += kBar + kGap;
  }
  // In numbers, where a bar is too narrow or not known well.
  for (const bool positive : {true, false}) {
    std::string text;
    for (const IonShare& i : shares) {
      if (i.positive != positive) continue;
      text += (text.empty() ? "" : ", ") + water::species_data(i.species).key + "\u00a0" +
              range_of(i, words);
    }
    d.items.push_back(paper::Words{.at = {0, y + kType},
                                   .text = text + "\u00a0meq/L",
                                   .size = kType,
                                   .ink = paper::Ink::kQuiet,
                                   .width = width});
    y += kLine * (text.size() > 70 ? 2 : 1);
  }
  d.height = y;
  return d;
}

}  // namespace drawoff::api
