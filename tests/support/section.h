// What every statistical suite has in common: its size, its section in Markdown, its exit status.
//
// `validate_NAME --full` runs the size that the claim needs; without it a small one, for every day.
#pragma once

#include <fmt/format.h>

#include <cstdio>
#include <string>
#include <string_view>

namespace drawoff::support {

inline bool asked_in_full(int argc, char** argv) {
  return argc > 1 && std::string_view(argv[1]) == "--full";
}

class Section {
 public:
  explicit Section(std::string_view heading) { line("## {}\n", heading); }

  template <class... T>
  void line(fmt::format_string<T...> text, T&&... values) {
    fmt::print(text, std::forward<T>(values)...);
    std::fputc('\n', stdout);
  }
  // A claim; one that does not hold fails the suite.
  void demand(bool holds, std::string_view claim) {
    line("- {}: {}", claim, holds ? "holds" : "**does not hold**");
    holds_ &= holds;
  }
  [[nodiscard]] int status() const { return holds_ ? 0 : 1; }

 private:
  bool holds_ = true;
};

}  // namespace drawoff::support
