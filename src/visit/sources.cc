#include "visit/sources.h"

#include <algorithm>
#include <array>

#include "fields/errors.h"

namespace drawoff {
namespace visit {

base::Result<std::vector<Mix>> mixes_of(const std::vector<FurtherSource>& further) {
  std::vector<water::Composition> waters;
  for (const FurtherSource& f : further) {
    TRY(const water::Composition water, water::speciate(water::analysis_of(f.water)));
    waters.push_back(water);
  }
  if (further.empty()) return std::vector<Mix>{{}};
  constexpr std::array kSeasons{std::pair{Season::kDry, &FurtherSource::dry},
                                std::pair{Season::kWet, &FurtherSource::wet},
                                std::pair{Season::kAfterRain, &FurtherSource::after_rain}};
  std::vector<Mix> out;
  for (const auto& [season, share_of] : kSeasons) {
    for (std::size_t corner = 0; corner < (std::size_t{1} << further.size()); ++corner) {
      Mix mix{.season = season};
      double left = 1;
      for (const FurtherSource& f : further) left -= (f.*share_of).low;
      for (std::size_t i = 0; i < further.size(); ++i) {
        const Share& share = further[i].*share_of;
        double part = share.low;
        if ((corner >> i & 1U) != 0) {
          const double more = std::min(share.high - share.low, std::max(left, 0.0));
          part += more;
          left -= more;
        }
        for (int s = 0; s < water::kSpeciesCount; ++s) {
          mix.rest.mol_m3[s] += part * waters[i].mol_m3[s];
        }
      }
      mix.first = std::max(left, 0.0);
      out.push_back(mix);
    }
  }
  return out;
}

}  // namespace visit

namespace fields {

base::Result<base::Done> Table<visit::Share>::check(const T& share, const Path& path) {
  if (share.low <= share.high) return base::Done{};
  return base::Error{base::ErrorKind::kData,
                     {"error.share.order",
                      {{"path", path_argument(path / "low_pct")},
                       {"low", path_argument(path / "low_pct")},
                       {"high", path_argument(path / "high_pct")}}}};
}

}  // namespace fields
}  // namespace drawoff
