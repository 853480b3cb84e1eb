// A small app for the tests of this room.
#pragma once

#include <string>

#include "messages/catalogue.h"
#include "server/answer.h"
#include "server/site.h"

namespace drawoff::server {

inline const Site& example_site() {
  static const Site kSite({{"index.html", "<!doctype html>start"},
                           {"sw.js", "worker"},
                           {"manifest.webmanifest", "{}"},
                           {"engine.wasm", std::string("\0asm", 4)},
                           {"fonts/Some Script.ttf", "font"},
                           {"papers/index.html", "papers"},
                           {"lone.gz", "lone"},
                           {"assets/app-1f3c.js", "plain text of the app"},
                           {"assets/app-1f3c.js.br", "brotli"},
                           {"assets/app-1f3c.js.gz", "gzip"},
                           {"assets/app-77aa.css", "p{}"},
                           {"assets/app-77aa.css.gz", "css-gzip"}},
                          messages::catalogue("en"));
  return kSite;
}

inline Request get(std::string_view target) {
  return {.method = "GET",
          .target = target,
          .host = "127.0.0.1:8420",
          .accept_encoding = "",
          .if_none_match = ""};
}

inline Answer ask(const Request& request) {
  return answer(example_site(), request, Hosts::kThisComputer);
}

// The value of a header, or "" if it is missing; its name stands once at most.
inline std::string_view header(const Answer& answer, std::string_view wanted) {
  for (const auto& [name, value] : answer.headers) {
    if (name == wanted) return value;
  }
  return "";
}

}  // namespace drawoff::server
