// A request to the server: method, target, host and what the browser takes, a line each.
#include <array>
#include <cstdint>
#include <string_view>

#include "base/check.h"
#include "server/answer.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace drawoff::server;
  static const Site site({{"index.html", "<!doctype html>"}, {"assets/app.js", "1"}},
                         drawoff::messages::catalogue("en"));
  std::string_view text(reinterpret_cast<const char*>(data), size);
  std::array<std::string_view, 5> lines;
  for (std::string_view& line : lines) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    line = text.substr(0, end);
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  const Request request{lines[0], lines[1], lines[2], lines[3], lines[4]};
  const Answer got = answer(site, request, Hosts::kThisComputer);
  CHECK(got.status >= 200 && got.status < 600);
  return 0;
}
