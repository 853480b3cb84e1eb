// The metering valves that a blend's could be, weighed by what the product read.
//
// Raw water passes the valve into the permeate. With the needle at n of its travel the share s of
// raw water in the product, and what the product holds, are
//
//   s = k/(1 + k), k = K f(n)             c = c_p + s (c_r − c_p)
//   f(n) = (exp(b nᵃ) − 1 + d min(1, n/w))/(exp(b) − 1 + d)
//   K   flow with the valve full open over that of the permeate, 0.08 … 22, log-uniform; where the
//       machine's plates say it, log-normal about that with a spread of 0.7
//   b   bend: 0 linear, 4 equal percentage (each step adds the same share), below 0 quick opening
//   a   lift, 0.45 … 1.2
//   d   0 … 1: what flows once the needle is off its seat, by w of its travel, 0.002 … 0.02
//
// The needle follows the handle with a play of up to 3 % of travel, taken up on each reversal. The
// meter shows g c + o, one g and one o within its bounds for the whole visit, and rounds. After a
// turn e^(−3 t/t_95) of the step is still to come, t_95 known within a fifth. The permeate may
// still settle: c_p(t) = c_p (1 + r e^(−t/τ)).
//
// Draws of all but K come from what is usual; K is solved from one reading, and the draw weighs by
// the others (importance sampling, from memory). Common practice, no source: the family, every
// spread. Mixing is taken by flow in conductivity: diluted water conducts up to a tenth more, so
// that the true share of raw water is a little smaller than the one that is named.
//
// Check: linear, K 1, half open: s = 1/3.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "visit/known_water.h"
#include "visit/reading.h"

namespace drawoff::visit {

enum class TurnedBy { kOpening, kClosing };

struct BlendReading {
  double turns = 0;    // of the handle, from shut
  double product = 0;  // as the meter shows it
  // Since that turn, or since the reading before where nothing was turned between; none: until it
  // stood still.
  std::optional<units::Time> waited;
  TurnedBy turned = TurnedBy::kOpening;
};

// What is known beside the valve. The product is wanted in ppm of the half scale: 55 to 75 (common
// practice, no source).
struct BlendSetting {
  double raw = 0;       // as the meter shows it
  double permeate = 0;  // the same, blend shut
  MeterUnit unit = MeterUnit::kPpm;
  InstrumentEntry meter;                  // the usual pen where it says no accuracy
  double turns_open = 5;                  // from shut to full open (common practice, no source)
  std::optional<double> capacity;         // K, as the plates have it
  std::optional<units::Time> running;     // since the start, when the permeate was read
  units::Time lag = units::Time(4 * 60);  // until 95 % of a change shows
  double low = 55;                        // [ppm, half scale]
  double high = 75;
  double highest_share = 1;            // of raw water that is permitted
  std::vector<BlendReading> readings;  // in their order
};

// Narrower than this no pen can tell [ppm, half scale] (common practice, no source).
inline constexpr double kLeastWindow = 2;

// Ppm of the half scale for one of the meter's own.
double half_scale(const BlendSetting& setting);
// Bound and half a last digit of the meter, in its own unit.
inference::Accuracy accuracy_of(const BlendSetting& setting, double reading);

struct LikelyValve {
  double capacity = 1;  // K
  double bend = 0;
  double lift = 1;
  double crack = 0;         // d
  double cracks_by = 0.01;  // w
  double play = 0;          // share of travel
  double raw = 0;           // true, ppm of the half scale
  double permeate = 0;      // the same, settled
  double gain = 1;          // of the meter
  double offset = 0;        // [ppm, half scale]
  double settling = 0;      // r
  double settles_in = 0;    // τ [min]
  double slowness = 1;      // true over stated lag
  double needle = 0;        // where the readings left it, share of travel
};

// f(n).
double characteristic(const LikelyValve& valve, double needle);
double share_at(const LikelyValve& valve, double needle);
// Of the product, once settled [ppm, half scale].
double product_at(const LikelyValve& valve, double needle);
// Where the needle comes to stand when the handle goes to `handle` (shares of travel).
double needle_after(const LikelyValve& valve, double handle);

struct LikelyValves {
  std::vector<LikelyValve> members;  // equally likely; none where no valve would read like that
  double least_misfit = 0;           // χ² of the readings in the valve that fits best
};

// The same seed gives the same valves.
LikelyValves likely_valves(const BlendSetting& setting, std::uint64_t seed = 1);

// Minutes from the reading of the permeate to the last one.
double minutes_since_permeate(const BlendSetting& setting);
// What the meter will show on a valve set to a needle, a wait after the last reading [min].
double shown_after(const LikelyValve& valve,
                   const BlendSetting& setting,
                   double needle,
                   double wait);

}  // namespace drawoff::visit

namespace drawoff::fields {

template <>
struct EnumTable<visit::TurnedBy> {
  static constexpr std::string_view name = "turned_by";
  static constexpr std::array list = {choice(visit::TurnedBy::kOpening, "opening"),
                                      choice(visit::TurnedBy::kClosing, "closing")};
};
template <>
struct Table<visit::BlendReading> {
  using T = visit::BlendReading;
  static constexpr std::string_view name = "blend_reading";
  static constexpr auto list =
      std::make_tuple(field("turns", &T::turns, Range{0, 40}, kRequired),
                      field("product", &T::product, Range{0, 1e5}, kRequired),
                      field("waited_min", &T::waited, Range{0, 600}),
                      field("turned", &T::turned));
};
template <>
struct Table<visit::BlendSetting> {
  using T = visit::BlendSetting;
  static constexpr std::string_view name = "blend_setting";
  static constexpr auto list =
      std::make_tuple(field("raw", &T::raw, Range{1, 1e5}, kRequired),
                      field("permeate", &T::permeate, Range{0, 1e5}, kRequired),
                      field("unit", &T::unit),
                      field("meter", &T::meter),
                      field("turns_open", &T::turns_open, Range{0.5, 40}),
                      field("capacity", &T::capacity, Range{0.01, 100}),
                      field("running_min", &T::running, Range{0, 1e5}),
                      field("lag_min", &T::lag, Range{0.2, 600}),
                      field("low_ppm", &T::low, Range{50, 500}),
                      field("high_ppm", &T::high, Range{52, 600}),
                      field("highest_share_pct", &T::highest_share, Range{0, 100}),
                      field("readings", &T::readings, Range{0, 20}));
  // Raw water stronger than the permeate, a window that a meter can hit, no turn beyond full open.
  static base::Result<base::Done> check(const T& setting, const Path& path);
};

// That a window is one that a meter can hit.
base::Result<base::Done> check_blend_window(double low,
                                            double high,
                                            const Path& low_path,
                                            const Path& high_path);

}  // namespace drawoff::fields
