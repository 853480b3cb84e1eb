// How far a reading may lie from the truth, as the instrument was bought.
//
// Data sheets give up to three parts: a share of the reading, a share of full scale, and a number
// of last digits. Together they bound the error; inside the bound nothing is preferred, so the
// standard deviation is the bound over √3 (rectangular distribution). [jcgm2008, 4.3.7]
// Check: a bound of 20 -> 11.547.
#pragma once

namespace drawoff::inference {

struct Accuracy {
  double share_of_reading = 0;  // 0.02 for "±2 % of reading"
  double full_scale = 0;        // in the unit of the reading
  double share_of_full_scale = 0;
  double last_digit = 0;  // resolution, in the unit of the reading
  double digits = 0;      // "±2 digits"
};

// The bound, in the unit of the reading, at this reading.
double error_bound(const Accuracy& accuracy, double reading);
// Standard deviation of a rectangular error within that bound, or within half a last digit if the
// data sheet gives less: a stated bound holds the rounding already.
double standard_uncertainty(const Accuracy& accuracy, double reading);

}  // namespace drawoff::inference
