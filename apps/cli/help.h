// What --help prints. Options describe themselves to CLI11; here they are put into lines.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "console.h"

namespace drawoff::cli {

struct HelpPage {
  std::vector<std::string> usage;                             // "drawoff job FILE [--json]"
  std::string about;                                          // message ids
  std::string notes;                                          // or empty
  std::vector<std::pair<std::string, std::string>> commands;  // name, message id
  std::vector<std::pair<std::string, std::string>> options;   // name, text
};

std::string help_text(const HelpPage& page, const Console& console);
// The fields of a question's input, from its table.
std::string fields_text(const std::string& question, const Console& console);

}  // namespace drawoff::cli
