// Days as people write them, "2026-11-27" or a month "2026-11", and how far apart two are.
#pragma once

#include <optional>
#include <string>

namespace drawoff::visit {

// A date that is one; a month too. "" is not.
bool is_date(const std::string& text);

// Days from the first to the second [d], negative if it comes before; a month counts from its
// first day. None where either is no date.
std::optional<int> days_between(const std::string& first, const std::string& second);

}  // namespace drawoff::visit
