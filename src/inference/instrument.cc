#include "inference/instrument.h"

#include <cmath>

namespace drawoff::inference {

double error_bound(const Accuracy& accuracy, double reading) {
  return accuracy.share_of_reading * std::fabs(reading) +
         accuracy.share_of_full_scale * accuracy.full_scale + accuracy.digits * accuracy.last_digit;
}

double standard_uncertainty(const Accuracy& accuracy, double reading) {
  const double bound = error_bound(accuracy, reading);
  const double rounding = 0.5 * accuracy.last_digit;
  return std::fmax(bound, rounding) / std::sqrt(3.0);
}

}  // namespace drawoff::inference
