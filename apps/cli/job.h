// drawoff job FILE: the whole job of a site, in words or as JSON.
#pragma once

#include <string>

#include "console.h"

namespace drawoff::cli {

struct JobWords {
  std::string file;
  bool json = false;
  bool explain = false;
};

Exit run_job(const JobWords& asked, Console& console);

}  // namespace drawoff::cli
