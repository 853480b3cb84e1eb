#include "api/own_screen.h"

#include "api/solved.h"

namespace drawoff::api {

base::Result<OwnValuesOutput> ask_own_values(const OwnValuesInput& in,
                                             Working& /*working*/,
                                             const messages::Catalogue& words) {
  fields::ReadContext context;
  TRY(const book::SiteFile file, book::read_site_json(in.site_file.json, context));
  TRY(SiteState state, site_state(file, context));
  if (auto lacking = lacks(state)) return *std::move(lacking);
  TRY(const Solved solved, solve(std::move(state), {}));
  TRY(const visit::FirstDay own, first_day_of(solved, {}));
  OwnValuesOutput out;
  for (const JobLine& line : own_in_words(own, solved.state))
    out.lines.push_back(rendered(line, words));
  return out;
}

}  // namespace drawoff::api
