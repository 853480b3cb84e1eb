#include "visit/survey.h"

namespace drawoff {

namespace visit {

std::string_view authority_key(Authority authority) { return fields::name_of(authority); }

}  // namespace visit

namespace fields {

base::Result<base::Done> Table<visit::SurveyEntry>::check(const T& survey, const Path& path) {
  const bool by_readings = survey.basis == visit::SurveyBasis::kReadings;
  if (by_readings == survey.known.has_value()) return base::Done{};
  return base::Error{
      base::ErrorKind::kData,
      {by_readings ? "error.survey.no_readings" : "error.survey.readings_beside_analysis",
       {{"path", path_argument(path / (by_readings ? "known" : "basis"))}}}};
}

}  // namespace fields

}  // namespace drawoff
