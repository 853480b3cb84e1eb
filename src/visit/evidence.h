// How well a survey knows a substance that has a limit.
#pragma once

#include <optional>
#include <string_view>

#include "visit/verdict.h"

namespace drawoff::visit {

Evidence evidence_of(std::string_view substance, const SurveyEntry& survey);

// The upper value that the place usually holds, if its profile says one.
std::optional<units::Density> usual_of(std::string_view substance, const SurveyEntry& survey);

// Whether anything of a limit's substance was analysed.
bool analysed(std::string_view substance, const water::Analysis& analysis);

// The amount that the analysis gives, before charges are balanced and the day's strength is known;
// half the bound where it is only below one. None for what it does not give, such as a sum of all.
std::optional<units::Density> stated(std::string_view substance, const water::Analysis& analysis);

// "Below" a bound that is over the limit says nothing about the limit.
bool unseen(const Limit& limit, const water::Analysis& analysis);

// Reported as below a bound, all of it.
bool only_below(std::string_view substance, const water::Analysis& analysis);

// Arsenic of one form only: the other, which passes unlike, may be part of it.
bool form_unknown(std::string_view substance, const water::Analysis& analysis);

}  // namespace drawoff::visit
