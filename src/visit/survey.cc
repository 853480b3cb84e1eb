#include "visit/survey.h"

#include "fields/errors.h"
#include "visit/date.h"

namespace drawoff {

namespace visit {

std::string_view authority_key(Authority authority) { return fields::name_of(authority); }

}  // namespace visit

namespace fields {

base::Result<base::Done> Table<visit::SurveyEntry>::check(const T& survey, const Path& path) {
  const auto refused = [&](const char* id, const Path& at) {
    return base::Error{base::ErrorKind::kData,
                       {id,
                        {{"path", path_argument(at)},
                         {"basis", path_argument(path / "basis")},
                         {"known", path_argument(path / "known")}}}};
  };
  const bool by_readings = survey.basis == visit::SurveyBasis::kReadings;
  if (by_readings && !survey.known) return refused("error.survey.no_readings", path / "known");
  if (survey.known && survey.basis == visit::SurveyBasis::kMeter) {
    return refused("error.survey.readings_beside_meter", path / "basis");
  }
  if (!by_readings && survey.water == water::AnalysisEntry{}) {
    return missing({.path = path / "water", .meaning = "field.survey.water"});
  }
  for (const auto& [key, day] : {std::pair{"on", &survey.on},
                                 std::pair{"analysed_on", &survey.analysed_on},
                                 std::pair{"faecal_on", &survey.faecal_on}}) {
    if (!day->empty() && !visit::is_date(*day)) return refused("error.survey.date", path / key);
  }
  for (const auto share : {&visit::FurtherSource::dry,
                           &visit::FurtherSource::wet,
                           &visit::FurtherSource::after_rain}) {
    double least = 0;
    for (const auto& f : survey.further) least += (f.*share).low;
    if (least > 1 + 1e-9) return refused("error.survey.shares", path / "further");
  }
  return base::Done{};
}

}  // namespace fields

}  // namespace drawoff
