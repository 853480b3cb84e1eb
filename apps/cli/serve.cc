#include "serve.h"

#include <charconv>
#include <cstdint>
#include <filesystem>
#include <optional>
#include <utility>

#include "fields/quote.h"
#include "server/addresses.h"
#include "server/folder.h"
#include "server/server.h"
#include "server/tls.h"

namespace drawoff::cli {

namespace {

using base::Message;

std::optional<std::uint16_t> port_in(const std::string& text) {
  std::uint16_t port = 0;
  const char* end = text.data() + text.size();
  const auto [stop, error] = std::from_chars(text.data(), end, port);
  if (error != std::errc{} || stop != end) return std::nullopt;
  return port;
}

// From build/PRESET/apps/cli/drawoff to web/dist, wherever the checkout lies.
std::string built_app() {
  std::error_code error;
  const auto program = std::filesystem::read_symlink("/proc/self/exe", error);
  return (program.parent_path() / "../../../../web/dist").lexically_normal().string();
}

std::vector<std::string> addresses_of(const ServeWords& asked) {
  if (!asked.address.empty()) return {asked.address};
  if (asked.tls.empty()) return {"127.0.0.1", "::1"};
  return {"0.0.0.0", "::"};
}

// Where to open it. At loopback only the first address: under each the browser would keep a book of
// its own.
std::vector<std::string> urls_of(const server::Server& server, bool secure) {
  std::vector<std::string> out;
  for (const std::string& address : server.addresses()) {
    for (const std::string& reached : server::reached_at(address)) {
      out.push_back(server::url_of(
          {.scheme = secure ? "https" : "http", .address = reached, .port = server.port()}));
    }
  }
  if (!secure) out.resize(1);
  return out;
}

std::string announcement(const server::Server& server, bool secure, const Console& console) {
  const Layout& layout = console.layout();
  const std::vector<std::string> urls = urls_of(server, secure);
  std::string out = layout.wrap(console.say(urls.empty() ? Message{"serve.ready.nowhere"}
                                            : secure     ? Message{"serve.ready.network"}
                                                         : Message{"serve.ready.here"}));
  for (const std::string& url : urls) out += "  " + url + '\n';
  out += layout.wrap(console.say(Message{"serve.ready.same"}));
  if (secure) out += layout.wrap(console.say(Message{"serve.ready.trust"}));
  return out + layout.wrap(console.say(Message{"serve.ready.end"}));
}

}  // namespace

Exit run_serve(const ServeWords& asked, Console& console) {
  const auto refuse = [&](const Message& message, Exit status) {
    console.complain(message);
    return status;
  };
  const std::optional<std::uint16_t> port = port_in(asked.port);
  if (!port) {
    return refuse({"serve.usage.port", {{"value", fields::quote_text(asked.port)}}}, Exit::kUsage);
  }
  const bool secure = !asked.tls.empty();
  if (!asked.address.empty() && !server::is_address(asked.address)) {
    return refuse({"serve.usage.address", {{"value", fields::quote_text(asked.address)}}},
                  Exit::kUsage);
  }
  if (!secure && !asked.address.empty() && !server::is_loopback(asked.address)) {
    return refuse({"serve.usage.plain", {{"value", asked.address}}}, Exit::kUsage);
  }

  auto files = server::read_folder(asked.app.empty() ? built_app() : asked.app);
  if (!files) return refuse(files.error().message, Exit::kNoInput);

  server::TlsContext tls;
  if (secure) {
    const Console::Input certificates = console.read(asked.tls[0]);
    if (certificates.failed) return *certificates.failed;
    const Console::Input key = console.read(asked.tls[1]);
    if (key.failed) return *key.failed;
    auto made = server::tls_context(
        {.certificates = {asked.tls[0], certificates.text}, .key = {asked.tls[1], key.text}});
    if (!made) return refuse(made.error().message, Exit::kData);
    tls = *std::move(made);
  }

  auto opened = server::Server::open({.addresses = addresses_of(asked), .port = *port},
                                     server::Site(*std::move(files), console.words()),
                                     std::move(tls));
  if (!opened) return refuse(opened.error().message, Exit::kIo);
  server::Server server = *std::move(opened);
  console.write(announcement(server, secure, console));
  server.run();
  return Exit::kDone;
}

}  // namespace drawoff::cli
