// drawoff job FILE: the whole job of a site, in words, as JSON or on paper; or its start-up as a
// checklist.
#pragma once

#include <string>

#include "api/api.h"
#include "console.h"
#include "papers.h"

namespace drawoff::cli {

struct JobWords {
  std::string file;
  bool json = false;
  bool explain = false;
  bool checklist = false;
  api::ChecklistOptions course;  // of the checklist
  PapersWords papers;
};

Exit run_job(const JobWords& asked, Console& console);

}  // namespace drawoff::cli
