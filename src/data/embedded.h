// The tables of data/ as they were at build time. Tables are data, with their sources in them:
// no value of theirs is retyped in code.
#pragma once

#include <string_view>

namespace drawoff::data {

// The whole text of data/<name>, for example file("species.csv"); empty if there is none.
std::string_view file(std::string_view name);

}  // namespace drawoff::data
