// From a request to its answer: the part of serving that needs no network.
//
// What is given: the files of the site, by GET and HEAD, compressed where the browser takes it, and
// 304 when it has the same already [rfc9110]. `/` is index.html; the app's own places stand behind
// '#' and never come here. Every answer carries the headers that keep the app to itself.
#pragma once

#include <optional>
#include <string_view>
#include <utility>
#include <vector>

#include "server/site.h"

namespace drawoff::server {

// Whose requests are heard. A page from elsewhere can have its own name point at this computer and
// then read what is served here ("DNS rebinding"). Its name still stands in Host, so over plain
// HTTP only names of this computer itself are heard; over TLS the certificate settles it.
enum class Hosts { kThisComputer, kAny };

struct Request {
  std::string_view method;
  std::string_view target;  // as it came: "/assets/app.js?x=1", or with http://host before
  std::optional<std::string_view> host;  // none if it is missing or stands more than once
  std::string_view accept_encoding;      // "" if missing; several are joined by commas
  std::string_view if_none_match;
};

using Header = std::pair<std::string_view, std::string_view>;

// Looks into the site, which must outlive it.
struct Answer {
  int status = 200;
  std::vector<Header> headers;  // all but Date, Connection and Content-Length
  std::string_view body;        // to be measured but not sent if the method is HEAD
};

Answer answer(const Site& site, const Request& request, Hosts hosts);

// The answer to what is no request at all: 400, or 431 if its head is too long.
Answer refuse(const Site& site, int status);

}  // namespace drawoff::server
