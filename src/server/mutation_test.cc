// Damaged requests: whatever the target and the headers, the answer is one of the files or a
// refusal, and only the right file. Seeded, so a failure can be run again; the sanitizers of the
// dev build watch.
#include <gtest/gtest.h>

#include <iterator>
#include <map>
#include <string>
#include <string_view>

#include "numerics/random.h"
#include "server/example_test.h"

namespace drawoff::server {
namespace {

// What each target without any escape names, written down a second time.
const std::map<std::string, std::string, std::less<>>& bodies() {
  static const std::map<std::string, std::string, std::less<>> kBodies = {
      {"/", "<!doctype html>start"},
      {"/index.html", "<!doctype html>start"},
      {"/sw.js", "worker"},
      {"/papers/", "papers"},
      {"/papers/index.html", "papers"},
      {"/fonts/Some Script.ttf", "font"},
      {"/assets/app-77aa.css", "p{}"}};
  return kBodies;
}

std::size_t below(numerics::Random& random, std::size_t n) {
  return static_cast<std::size_t>(random.below(static_cast<int>(n)));
}

// Each character as it is or as an escape, in either case of letters.
std::string escaped(std::string_view text, numerics::Random& random) {
  std::string out;
  for (const char c : text) {
    if (c != ' ' && random.chance(0.6)) {
      out += c;
      continue;
    }
    const std::string_view digits = random.chance(0.5) ? "0123456789abcdef" : "0123456789ABCDEF";
    const auto byte = static_cast<unsigned char>(c);
    out += {'%', digits[byte >> 4], digits[byte & 15]};
  }
  return out;
}

std::string mutated(std::string text, numerics::Random& random) {
  static constexpr std::string_view kPieces[] = {
      "..",  "/",   "//", "%2e%2e%2f", "%2F", "%5c", "\\", "%00",      "%",          "?",  "#",
      "%c0", "%ae", ";",  "http://",   "@",   ":",   "[",  "%252e%2e", "index.html", ".br"};
  const int slips = 1 + random.below(4);
  for (int i = 0; i < slips; ++i) {
    const std::size_t at = below(random, text.size() + 1);
    switch (random.below(3)) {
      case 0:
        text.insert(at, kPieces[below(random, std::size(kPieces))]);
        break;
      case 1:
        text.erase(at, 1 + below(random, 4));
        break;
      default:
        text.insert(at, 1, static_cast<char>(random.below(256)));
    }
  }
  return text;
}

void expect_sound(const Answer& given, const std::string& asked) {
  const auto status = given.status;
  EXPECT_TRUE(status == 200 || status == 304 || status == 400 || status == 404 || status == 421)
      << status << asked;
  EXPECT_NE(header(given, "Content-Security-Policy"), "") << asked;
  for (const auto& [name, value] : given.headers) {
    EXPECT_EQ(value.find_first_of("\r\n"), std::string_view::npos) << asked;
  }
}

TEST(Mutation, every_spelling_of_a_path_names_its_file) {
  for (std::uint64_t i = 0; i < 2000; ++i) {
    numerics::Random random(31, i);
    const auto& [path, body] = *std::next(bodies().begin(), random.below(int(bodies().size())));
    const std::string target = '/' + escaped(path.substr(1), random);
    EXPECT_EQ(ask(get(target)).status, 200) << target;
    EXPECT_EQ(ask(get(target)).body, body) << target;
  }
}

TEST(Mutation, no_spelling_leads_anywhere_else) {
  int refused = 0;
  for (std::uint64_t i = 0; i < 20000; ++i) {
    numerics::Random random(32, i);
    const auto& [path, body] = *std::next(bodies().begin(), random.below(int(bodies().size())));
    const std::string target = mutated(escaped(path, random), random);
    const Answer given = ask(get(target));
    expect_sound(given, target);
    refused += given.status == 200 ? 0 : 1;
    if (given.status != 200) continue;
    // What came is a file of the site, whole.
    bool found = false;
    for (const auto& [name, text] : bodies()) found = found || given.body == text;
    found = found || given.body == "plain text of the app" || given.body == "{}" ||
            given.body == "lone" || given.body == std::string_view("\0asm", 4);
    EXPECT_TRUE(found) << target;
  }
  EXPECT_GT(refused, 10000);  // else the mutations are no test
}

TEST(Mutation, damaged_headers_are_borne) {
  const std::string etag(header(ask(get("/assets/app-1f3c.js")), "ETag"));
  for (std::uint64_t i = 0; i < 10000; ++i) {
    numerics::Random random(33, i);
    const std::string host = mutated("127.0.0.1:8420", random);
    const std::string accept = mutated("gzip;q=0.5, deflate, br;q=1", random);
    const std::string known = mutated("W/\"abc\", " + etag, random);
    Request request = get("/assets/app-1f3c.js");
    if (random.chance(0.3)) request.host = host;
    request.accept_encoding = accept;
    request.if_none_match = known;
    const Answer given = ask(request);
    expect_sound(given, host + " | " + accept + " | " + known);
    if (given.status == 200) {
      const std::string_view coding = header(given, "Content-Encoding");
      EXPECT_EQ(given.body,
                coding == "br"     ? "brotli"
                : coding == "gzip" ? "gzip"
                                   : "plain text of the app");
    }
  }
}

}  // namespace
}  // namespace drawoff::server
