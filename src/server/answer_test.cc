#include "server/answer.h"

#include <gtest/gtest.h>

#include <set>
#include <string>

#include "server/example_test.h"

namespace drawoff::server {
namespace {

struct Served {
  std::string_view target;
  std::string_view body;
  std::string_view type;
  std::string_view cache;
};

TEST(Answer, files_come_with_their_type_and_how_long_they_keep) {
  constexpr std::string_view kYear = "public, max-age=31536000, immutable";
  for (const Served& wanted : {
           Served{"/", "<!doctype html>start", "text/html; charset=utf-8", "no-cache"},
           Served{"/index.html", "<!doctype html>start", "text/html; charset=utf-8", "no-cache"},
           Served{"/?source=home", "<!doctype html>start", "text/html; charset=utf-8", "no-cache"},
           Served{"/papers/", "papers", "text/html; charset=utf-8", "no-cache"},
           Served{"/sw.js", "worker", "text/javascript; charset=utf-8", "no-cache"},
           Served{"/manifest.webmanifest", "{}", "application/manifest+json", "no-cache"},
           Served{"/engine.wasm", {"\0asm", 4}, "application/wasm", "no-cache"},
           Served{"/fonts/Some%20Script.ttf", "font", "font/ttf", "no-cache"},
           Served{
               "/%69ndex.htm%6C", "<!doctype html>start", "text/html; charset=utf-8", "no-cache"},
           Served{"/lone.gz", "lone", "application/octet-stream", "no-cache"},
           Served{"/assets/app-77aa.css", "p{}", "text/css; charset=utf-8", kYear},
           Served{"http://localhost/sw.js", "worker", "text/javascript; charset=utf-8", "no-cache"},
       }) {
    const Answer given = ask(get(wanted.target));
    EXPECT_EQ(given.status, 200) << wanted.target;
    EXPECT_EQ(given.body, wanted.body) << wanted.target;
    EXPECT_EQ(header(given, "Content-Type"), wanted.type) << wanted.target;
    EXPECT_EQ(header(given, "Cache-Control"), wanted.cache) << wanted.target;
    EXPECT_EQ(header(given, "Content-Encoding"), "") << wanted.target;
  }
}

TEST(Answer, head_is_answered_like_get) {
  Request request = get("/sw.js");
  request.method = "HEAD";
  const Answer given = ask(request);
  EXPECT_EQ(given.status, 200);
  EXPECT_EQ(given.headers, ask(get("/sw.js")).headers);
  EXPECT_EQ(given.body, "worker");
}

TEST(Answer, other_methods_are_refused_with_those_that_are_not) {
  for (const std::string_view method : {"POST", "PUT", "DELETE", "OPTIONS", "TRACE", "get", ""}) {
    Request request = get("/");
    request.method = method;
    const Answer given = ask(request);
    EXPECT_EQ(given.status, 405) << method;
    EXPECT_EQ(header(given, "Allow"), "GET, HEAD") << method;
  }
}

TEST(Answer, what_is_not_there_is_said_in_plain_words) {
  for (const std::string_view target : {"/nothing",
                                        "/assets",
                                        "/assets/",
                                        "/assets/app-1f3c.js.br",  // part of the file without .br
                                        "/../index.html",
                                        "/assets/../index.html",
                                        "/%2e%2e/index.html",
                                        "/..%2findex.html",
                                        "//index.html",
                                        "/index.html%00",
                                        "/INDEX.HTML",
                                        "/index.html/"}) {
    const Answer given = ask(get(target));
    EXPECT_EQ(given.status, 404) << target;
    EXPECT_EQ(header(given, "Content-Type"), "text/html; charset=utf-8");
    EXPECT_NE(given.body.find("There is no such page here."), std::string::npos) << target;
    EXPECT_NE(given.body.find("href=\"/\""), std::string::npos) << target;
  }
}

TEST(Answer, what_is_no_target_is_malformed) {
  for (const std::string_view target : {"", "*", "index.html", "/%", "/%4", "/%g1", "/%-1", "?x"}) {
    EXPECT_EQ(ask(get(target)).status, 400) << target;
  }
}

TEST(Answer, compressed_files_go_to_those_who_take_them) {
  struct Case {
    std::string_view accept;
    std::string_view coding;
  };
  for (const Case& wanted : {Case{"", ""},
                             Case{"br", "br"},
                             Case{"gzip, deflate, br", "br"},
                             Case{"gzip, deflate", "gzip"},
                             Case{"GZIP", "gzip"},
                             Case{"br;q=0, gzip", "gzip"},
                             Case{"br; q=0.000, gzip;q=0.001", "gzip"},
                             Case{"gzip;q=1.0, br;q=0.1", "br"},
                             Case{"*", "br"},
                             Case{"br;q=0, *", "gzip"},
                             Case{"*;q=0", ""},
                             Case{"identity", ""},
                             Case{"brotli, xgzip", ""},
                             Case{";;;,", ""}}) {
    Request request = get("/assets/app-1f3c.js");
    request.accept_encoding = wanted.accept;
    const Answer given = ask(request);
    EXPECT_EQ(header(given, "Content-Encoding"), wanted.coding) << wanted.accept;
    EXPECT_EQ(header(given, "Vary"), "Accept-Encoding") << wanted.accept;
    EXPECT_EQ(header(given, "Content-Type"), "text/javascript; charset=utf-8");
    EXPECT_EQ(given.body,
              wanted.coding == "br"     ? "brotli"
              : wanted.coding == "gzip" ? "gzip"
                                        : "plain text of the app");
  }
  Request only_gzip = get("/assets/app-77aa.css");
  only_gzip.accept_encoding = "gzip, br";
  EXPECT_EQ(ask(only_gzip).body, "css-gzip");
  Request none = get("/sw.js");
  none.accept_encoding = "br";
  EXPECT_EQ(header(ask(none), "Vary"), "");
}

TEST(Answer, a_file_that_is_known_is_not_sent_again) {
  const std::string etag(header(ask(get("/assets/app-1f3c.js")), "ETag"));
  ASSERT_GT(etag.size(), 2U);
  EXPECT_EQ(etag.front(), '"');
  EXPECT_EQ(etag.back(), '"');
  Request request = get("/assets/app-1f3c.js");
  for (const std::string& same : {etag,
                                  "W/" + etag,
                                  "\"a,b\", " + etag,
                                  std::string("*"),
                                  "\t, \"x\" ," + etag + ", \"y\""}) {
    request.if_none_match = same;
    const Answer given = ask(request);
    EXPECT_EQ(given.status, 304) << same;
    EXPECT_EQ(given.body, "") << same;
    EXPECT_EQ(header(given, "ETag"), etag) << same;
    EXPECT_EQ(header(given, "Vary"), "Accept-Encoding") << same;
    EXPECT_NE(header(given, "Cache-Control"), "") << same;
    EXPECT_EQ(header(given, "Content-Type"), "") << same;
  }
  for (const std::string& other : {std::string("\"x\""),
                                   etag.substr(1, etag.size() - 2),
                                   etag.substr(0, etag.size() - 1),
                                   "w/" + etag,
                                   std::string(",,,"),
                                   std::string("W/")}) {
    request.if_none_match = other;
    EXPECT_EQ(ask(request).status, 200) << other;
  }
  // Another coding is another representation, with another tag.
  request.if_none_match = etag;
  request.accept_encoding = "br";
  EXPECT_EQ(ask(request).status, 200);
}

TEST(Answer, only_this_computer_is_heard_over_plain_http) {
  for (const std::string_view host : {"localhost",
                                      "LocalHost:8420",
                                      "127.0.0.1",
                                      "127.0.0.1:1",
                                      "127.8.9.1:80",
                                      "[::1]",
                                      "[::1]:8420"}) {
    Request request = get("/");
    request.host = host;
    EXPECT_EQ(ask(request).status, 200) << host;
  }
  for (const std::string_view host : {"",
                                      ":8420",
                                      "rebound.example",
                                      "rebound.example:8420",
                                      "localhost.rebound.example",
                                      "localhost.",
                                      "127.0.0.1.rebound.example",
                                      "127.0.0.1:80:80",
                                      "127.0.0.1:8420@rebound.example",
                                      "[::1",
                                      "[::1]rebound.example",
                                      "::1",
                                      "192.168.1.20",
                                      "[::ffff:127.0.0.1]",
                                      "0.0.0.0"}) {
    Request request = get("/");
    request.host = host;
    EXPECT_EQ(ask(request).status, 421) << host;
    EXPECT_EQ(answer(example_site(), request, Hosts::kAny).status, 200) << host;
  }
  // The name in the target overrides Host.
  EXPECT_EQ(ask(get("http://rebound.example/")).status, 421);
  Request without = get("/");
  without.host = std::nullopt;
  EXPECT_EQ(ask(without).status, 400);
  EXPECT_EQ(answer(example_site(), without, Hosts::kAny).status, 400);
}

TEST(Answer, every_answer_keeps_the_app_to_itself) {
  Request unchanged = get("/sw.js");
  unchanged.if_none_match = "*";
  Request elsewhere = get("/");
  elsewhere.host = "rebound.example";
  Request post = get("/");
  post.method = "POST";
  for (const Answer& given : {ask(get("/")),
                              ask(get("/nothing")),
                              ask(get("*")),
                              ask(unchanged),
                              ask(elsewhere),
                              ask(post),
                              refuse(example_site(), 431)}) {
    EXPECT_EQ(header(given, "X-Content-Type-Options"), "nosniff") << given.status;
    EXPECT_EQ(header(given, "Referrer-Policy"), "no-referrer") << given.status;
    EXPECT_EQ(header(given, "Cross-Origin-Opener-Policy"), "same-origin") << given.status;
    EXPECT_EQ(header(given, "Cross-Origin-Resource-Policy"), "same-origin") << given.status;
    EXPECT_EQ(header(given, "Permissions-Policy").substr(0, 13), "camera=(self)") << given.status;
    const std::string_view policy = header(given, "Content-Security-Policy");
    for (const std::string_view part : {"default-src 'self'",
                                        "script-src 'self' 'wasm-unsafe-eval'",
                                        "object-src 'none'",
                                        "base-uri 'none'",
                                        "frame-ancestors 'none'",
                                        "form-action 'none'"}) {
      EXPECT_NE(policy.find(part), std::string_view::npos) << given.status << part;
    }
    EXPECT_EQ(policy.find("unsafe-inline"), std::string_view::npos);
    std::set<std::string_view> names;
    for (const auto& [name, value] : given.headers) EXPECT_TRUE(names.insert(name).second) << name;
  }
}

}  // namespace
}  // namespace drawoff::server
