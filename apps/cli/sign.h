// drawoff sign SITE --key KEY: a signed record of a site, for scripts and tests; the app makes its
// own.
#pragma once

#include <string>
#include <vector>

#include "console.h"

namespace drawoff::cli {

struct SignWords {
  std::string file;
  std::string key;                  // a PEM file that only its owner may read
  std::string by;                   // who says that they sign
  std::string at;                   // UTC, or empty: now
  std::vector<std::string> attach;  // files that belong to the record, beside its photos
};

// Writes the record on standard output.
Exit run_sign(const SignWords& asked, Console& console);

}  // namespace drawoff::cli
