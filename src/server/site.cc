#include "server/site.h"

#include <fmt/core.h>
#include <openssl/sha.h>

#include <utility>

#include "base/check.h"

namespace drawoff::server {

namespace {

// Media types as IANA registers them.
std::string_view type_of(std::string_view path) {
  static constexpr std::pair<std::string_view, std::string_view> kTypes[] = {
      {".html", "text/html; charset=utf-8"},
      {".js", "text/javascript; charset=utf-8"},
      {".css", "text/css; charset=utf-8"},
      {".wasm", "application/wasm"},
      {".webmanifest", "application/manifest+json"},
      {".json", "application/json"},
      {".svg", "image/svg+xml"},
      {".png", "image/png"},
      {".jpg", "image/jpeg"},
      {".ico", "image/vnd.microsoft.icon"},
      {".ttf", "font/ttf"},
      {".woff2", "font/woff2"},
      {".pdf", "application/pdf"},
      {".txt", "text/plain; charset=utf-8"},
  };
  for (const auto& [ending, type] : kTypes) {
    if (path.ends_with(ending)) return type;
  }
  return "application/octet-stream";
}

constexpr std::string_view kAskAgain = "no-cache";
constexpr std::string_view kForAYear = "public, max-age=31536000, immutable";

constexpr std::pair<std::string_view, std::string_view> kCodings[] = {
    {"", ""}, {".br", "br"}, {".gz", "gzip"}};

std::string etag_of(std::string_view content) {
  unsigned char hash[SHA256_DIGEST_LENGTH];
  SHA256(reinterpret_cast<const unsigned char*>(content.data()), content.size(), hash);
  constexpr int kEnough = 16;  // bytes: no two files of an app are ever taken for one another
  std::string out = "\"";
  for (int i = 0; i < kEnough; ++i) out += fmt::format("{:02x}", hash[i]);
  return out + '"';
}

struct Refusal {
  int status;
  const char* words;
  bool start_helps;  // whether to offer the way to the start of the app
};
constexpr Refusal kRefusals[] = {{400, "serve.page.malformed", true},
                                 {404, "serve.page.missing", true},
                                 {405, "serve.page.method", true},
                                 {421, "serve.page.host", false},
                                 {431, "serve.page.long", true}};

// The words are those of our own catalogue, which hold no marks of HTML.
std::string page_of(const Refusal& refusal, const messages::Catalogue& words) {
  std::string out = fmt::format(
      "<!doctype html>\n<html lang=\"{}\">\n<meta charset=\"utf-8\">\n"
      "<meta name=\"viewport\" "
      "content=\"width=device-width\">\n<title>Drawoff</title>\n<p>{}</p>\n",
      words.language(),
      messages::render(words, {refusal.words}));
  if (refusal.start_helps) {
    out += fmt::format("<p><a href=\"/\">{}</a></p>\n",
                       messages::render(words, base::Message{"serve.page.start"}));
  }
  return out;
}

}  // namespace

Site::Site(std::vector<File> files, const messages::Catalogue& words) {
  for (const Refusal& refusal : kRefusals) {
    refusals_.emplace(refusal.status, page_of(refusal, words));
  }
  std::map<std::string, std::string, std::less<>> contents;
  for (File& file : files) contents.emplace(std::move(file.path), std::move(file.content));
  const auto is_compressed_sibling = [&](std::string_view path) {
    for (const auto& [ending, coding] : kCodings) {
      if (!ending.empty() && path.ends_with(ending) &&
          contents.contains(path.substr(0, path.size() - ending.size()))) {
        return true;
      }
    }
    return false;
  };
  for (const auto& [path, plain] : contents) {
    if (is_compressed_sibling(path)) continue;
    Page page{.type = type_of(path),
              .cache = path.starts_with("assets/") ? kForAYear : kAskAgain,
              .representations = {}};
    for (const auto& [ending, coding] : kCodings) {
      const auto found = contents.find(path + std::string(ending));
      if (found == contents.end()) continue;
      page.representations.push_back(
          {.coding = coding, .content = found->second, .etag = etag_of(found->second)});
    }
    pages_.emplace(path, std::move(page));
  }
}

const Page* Site::find(std::string_view path) const {
  const auto found = pages_.find(path);
  return found == pages_.end() ? nullptr : &found->second;
}

std::string_view Site::refusal(int status) const {
  const auto found = refusals_.find(status);
  CHECK(found != refusals_.end());
  return found->second;
}

}  // namespace drawoff::server
