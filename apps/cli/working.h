// The working of an answer ("working" of its output) for people: each number with its formula,
// what went in, and the source.
#pragma once

#include <string>

#include "console.h"
#include "fields/json.h"

namespace drawoff::cli {

std::string working_text(const fields::Json& output, const Console& console);

}  // namespace drawoff::cli
