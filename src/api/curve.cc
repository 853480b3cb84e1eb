#include "api/curve.h"

#include <cmath>

#include "messages/number.h"

namespace drawoff::api {

namespace {

// 1, 2 or 5 times a power of ten, at most four of them up to what is shown.
double step_to(double most) {
  const double least = most / 4;
  const double power = std::pow(10, std::floor(std::log10(least)));
  for (const double step : {1.0, 2.0, 5.0}) {
    if (step * power >= least) return step * power;
  }
  return 10 * power;
}

}  // namespace

UpAxis up_axis(double most, const messages::Catalogue& words) {
  const double shown = std::fmax(most, 1);
  const double step = step_to(shown);
  const int count = static_cast<int>(std::ceil(shown / step));
  UpAxis axis{.top = count * step};
  for (int i = 0; i <= count; ++i) {
    axis.ticks.push_back({static_cast<double>(i) / count, bare_number(i * step, words)});
  }
  return axis;
}

std::string bare_number(double value, const messages::Catalogue& words) {
  const double r = messages::rounded(value, 3);
  return messages::format_number(r, messages::digits_of(r), words.language());
}

}  // namespace drawoff::api
