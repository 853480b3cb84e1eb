// Readings that are sooner a slip than a fault: questioned at once, with the reason. They are kept
// if the person stands by them, and stay marked.
#pragma once

#include <optional>

#include "base/message.h"
#include "inference/predict.h"
#include "visit/reading.h"

namespace drawoff::visit {

// `expected`: the band of this reading, as its instrument shows it, where there is one: of the raw
// water what the survey lets expect (visit/day.h). `raw`: conductivity of the raw water at 25 °C
// [S/m], where it is known.
//
// Questioned: a flow below nothing; no reject, which is a recovery of 100 %; a value beyond the
// gauge's full scale; a product or permeate as strong as the raw water; ten times or a tenth of
// what was expected (a comma, a scale); a quality that would fit in the meter's other unit; a raw
// water three times as strong as its survey or a third of it.
std::optional<base::Message> questioned(const ReadingEntry& reading,
                                        const std::optional<inference::Interval>& expected,
                                        std::optional<double> raw);

// An interval in SI as the reading's instrument would show it.
inference::Interval as_shown(const inference::Interval& si, const ReadingEntry& reading);

}  // namespace drawoff::visit
