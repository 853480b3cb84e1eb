// drawoff job FILE: the whole job of a site, in words, as JSON or on paper.
#pragma once

#include <string>

#include "console.h"
#include "papers.h"

namespace drawoff::cli {

struct JobWords {
  std::string file;
  bool json = false;
  bool explain = false;
  PapersWords papers;
};

Exit run_job(const JobWords& asked, Console& console);

}  // namespace drawoff::cli
