#include "server/answer.h"

#include <algorithm>
#include <boost/algorithm/string/predicate.hpp>
#include <charconv>
#include <string>

#include "server/addresses.h"

namespace drawoff::server {

namespace {

using boost::algorithm::iequals;

constexpr Header kAlways[] = {
    // The engine is WebAssembly; photos and papers are blobs. Nothing comes from elsewhere.
    {"Content-Security-Policy",
     "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; "
     "img-src 'self' blob: data:; worker-src 'self'; connect-src 'self'; object-src 'none'; "
     "base-uri 'none'; frame-ancestors 'none'; form-action 'none'"},
    {"Cross-Origin-Opener-Policy", "same-origin"},
    {"Cross-Origin-Resource-Policy", "same-origin"},
    {"Permissions-Policy", "camera=(self), geolocation=(), microphone=()"},
    {"Referrer-Policy", "no-referrer"},
    {"X-Content-Type-Options", "nosniff"},
};

Answer with_headers(int status, std::initializer_list<Header> more) {
  Answer out{.status = status, .headers = {std::begin(kAlways), std::end(kAlways)}, .body = {}};
  out.headers.insert(out.headers.end(), more);
  return out;
}

// "127.0.0.1:8420" and its like.
bool names_this_computer(std::string_view host) {
  std::string_view name;
  if (host.starts_with('[')) {
    const std::size_t end = host.find(']');
    if (end == std::string_view::npos) return false;
    name = host.substr(1, end - 1);
    host.remove_prefix(end + 1);
  } else {
    name = host.substr(0, host.find(':'));
    host.remove_prefix(name.size());
  }
  const bool rest_is_port =
      host.empty() ||
      (host.front() == ':' && host.find_first_not_of("0123456789", 1) == std::string_view::npos);
  return rest_is_port && (iequals(name, "localhost") || is_loopback(name));
}

struct Target {
  std::optional<std::string_view> host;  // of the absolute form, where it overrides Host
  std::string_view path;                 // still percent-encoded, without the query
};

Target split(std::string_view target) {
  Target out;
  for (const std::string_view scheme : {"http://", "https://"}) {
    if (!boost::algorithm::istarts_with(target, scheme)) continue;
    target.remove_prefix(scheme.size());
    out.host = target.substr(0, target.find_first_of("/?"));
    target.remove_prefix(out.host->size());
    break;
  }
  out.path = target.substr(0, target.find('?'));
  return out;
}

// The file that a path names, or none if it is no path. What it says of folders above is left in:
// no file has such a name.
std::optional<std::string> file_of(std::string_view path) {
  if (!path.starts_with('/')) return std::nullopt;
  std::string out;
  for (std::size_t i = 1; i < path.size(); ++i) {
    if (path[i] != '%') {
      out += path[i];
      continue;
    }
    const std::string_view digits = path.substr(i + 1, 2);
    unsigned char byte = 0;
    const char* end = digits.data() + digits.size();
    if (digits.size() != 2 || std::from_chars(digits.data(), end, byte, 16).ptr != end) {
      return std::nullopt;
    }
    out += static_cast<char>(byte);
    i += digits.size();
  }
  if (out.empty() || out.back() == '/') out += "index.html";
  return out;
}

std::string_view trimmed(std::string_view text) {
  text.remove_prefix(std::min(text.find_first_not_of(" \t"), text.size()));
  return text.substr(0, text.find_last_not_of(" \t") + 1);
}

// Takes what stands before the mark off the front of a text, and the mark.
std::string_view cut(std::string_view& text, char mark) {
  const std::string_view out = text.substr(0, text.find(mark));
  text.remove_prefix(std::min(out.size() + 1, text.size()));
  return out;
}

// Whether the browser takes that coding: it is listed, or "*" is, and not with a weight of nought
// [rfc9110, 12.5.3].
bool accepts(std::string_view accept_encoding, std::string_view coding) {
  bool any = false;
  while (!accept_encoding.empty()) {
    std::string_view item = cut(accept_encoding, ',');
    const std::string_view name = trimmed(cut(item, ';'));
    const std::string_view weight = trimmed(item);
    const bool taken = !boost::algorithm::istarts_with(weight, "q=") ||
                       weight.find_first_of("123456789") != std::string_view::npos;
    if (iequals(name, coding)) return taken;
    if (name == "*") any = taken;
  }
  return any;
}

const Representation& choose(const Page& page, std::string_view accept_encoding) {
  for (const Representation& candidate : page.representations) {
    if (!candidate.coding.empty() && accepts(accept_encoding, candidate.coding)) return candidate;
  }
  return page.representations.front();
}

// Whether a list of entity tags has this one, strong or weak [rfc9110, 13.1.2].
bool lists(std::string_view tags, std::string_view etag) {
  if (tags == "*") return true;
  while (true) {
    tags.remove_prefix(std::min(tags.find_first_not_of(" \t,"), tags.size()));
    if (tags.starts_with("W/")) tags.remove_prefix(2);
    if (!tags.starts_with('"')) return false;
    const std::size_t end = tags.find('"', 1);
    if (end == std::string_view::npos) return false;
    if (tags.substr(0, end + 1) == etag) return true;
    tags.remove_prefix(end + 1);
  }
}

}  // namespace

Answer refuse(const Site& site, int status) {
  Answer out = with_headers(
      status, {{"Content-Type", "text/html; charset=utf-8"}, {"Cache-Control", "no-store"}});
  if (status == 405) out.headers.emplace_back("Allow", "GET, HEAD");
  out.body = site.refusal(status);
  return out;
}

Answer answer(const Site& site, const Request& request, Hosts hosts) {
  if (!request.host) return refuse(site, 400);
  const Target target = split(request.target);
  if (hosts == Hosts::kThisComputer && !names_this_computer(target.host.value_or(*request.host))) {
    return refuse(site, 421);
  }
  if (request.method != "GET" && request.method != "HEAD") return refuse(site, 405);
  const std::optional<std::string> file = file_of(target.path);
  if (!file) return refuse(site, 400);
  const Page* page = site.find(*file);
  if (page == nullptr) return refuse(site, 404);

  const Representation& chosen = choose(*page, request.accept_encoding);
  const bool known = lists(request.if_none_match, chosen.etag);
  Answer out =
      with_headers(known ? 304 : 200, {{"ETag", chosen.etag}, {"Cache-Control", page->cache}});
  if (page->representations.size() > 1) out.headers.emplace_back("Vary", "Accept-Encoding");
  if (known) return out;
  out.headers.emplace_back("Content-Type", page->type);
  if (!chosen.coding.empty()) out.headers.emplace_back("Content-Encoding", chosen.coding);
  out.body = chosen.content;
  return out;
}

}  // namespace drawoff::server
