#include "server/server.h"

#include <boost/asio/as_tuple.hpp>
#include <boost/asio/co_spawn.hpp>
#include <boost/asio/detached.hpp>
#include <boost/asio/io_context.hpp>
#include <boost/asio/ip/tcp.hpp>
#include <boost/asio/ip/v6_only.hpp>
#include <boost/asio/signal_set.hpp>
#include <boost/asio/steady_timer.hpp>
#include <boost/asio/use_awaitable.hpp>
#include <boost/beast/core/flat_buffer.hpp>
#include <boost/beast/core/tcp_stream.hpp>
#include <boost/beast/http/empty_body.hpp>
#include <boost/beast/http/parser.hpp>
#include <boost/beast/http/read.hpp>
#include <boost/beast/http/serializer.hpp>
#include <boost/beast/http/span_body.hpp>
#include <boost/beast/http/write.hpp>
#include <boost/beast/ssl/ssl_stream.hpp>
#include <chrono>
#include <csignal>
#include <ctime>
#include <optional>
#include <utility>

#include "server/answer.h"

namespace drawoff::server {

namespace {

namespace asio = boost::asio;
namespace beast = boost::beast;
namespace http = beast::http;
using asio::ip::tcp;
using boost::system::error_code;
using Body = http::span_body<const char>;
using Plain = beast::tcp_stream;
using Secure = beast::ssl_stream<beast::tcp_stream>;

// An error comes back as a value, not as an exception.
constexpr auto kAwait = asio::as_tuple(asio::use_awaitable);
// How long the other side may take to see that the conversation is over.
constexpr auto kLeave = std::chrono::seconds(2);

// "Sun, 06 Nov 1994 08:49:37 GMT" [rfc9110, 5.6.7]
std::string date_now() {
  const std::time_t now = std::time(nullptr);
  std::tm parts{};
  gmtime_r(&now, &parts);
  char out[sizeof "Sun, 06 Nov 1994 08:49:37 GMT"];
  std::strftime(out, sizeof out, "%a, %d %b %Y %H:%M:%S GMT", &parts);
  return out;
}

std::string joined(const http::fields& fields, http::field name) {
  std::string out;
  const auto [first, last] = fields.equal_range(name);
  for (auto at = first; at != last; ++at) {
    if (!out.empty()) out += ", ";
    out += std::string_view(at->value());
  }
  return out;
}

Answer answer_to(const Site& site, const http::request_header<>& head, Hosts hosts) {
  const std::string accept_encoding = joined(head, http::field::accept_encoding);
  const std::string if_none_match = joined(head, http::field::if_none_match);
  Request request{.method = head.method_string(),
                  .target = head.target(),
                  .host = std::nullopt,
                  .accept_encoding = accept_encoding,
                  .if_none_match = if_none_match};
  if (head.count(http::field::host) == 1) request.host = head[http::field::host];
  return answer(site, request, hosts);
}

struct Sending {
  unsigned version = 11;
  bool head_only = false;
  bool keep_alive = false;
};

// GCC 12 miscompiles a co_await inside a condition: each stands in a statement of its own.
template <class Stream>
asio::awaitable<error_code> send(Stream& stream, const Answer& answer, Sending how) {
  http::response<Body> response(static_cast<http::status>(answer.status), how.version);
  response.set(http::field::date, date_now());
  for (const auto& [name, value] : answer.headers) response.insert(name, value);
  if (answer.status != 304) response.content_length(answer.body.size());
  response.keep_alive(how.keep_alive);
  response.body() = {answer.body.data(), answer.body.size()};
  http::response_serializer<Body> serializer(response);
  beast::get_lowest_layer(stream).expires_after(std::chrono::seconds(kLongestSend));
  if (how.head_only) {
    const auto [error, size] = co_await http::async_write_header(stream, serializer, kAwait);
    co_return error;
  }
  const auto [error, size] = co_await http::async_write(stream, serializer, kAwait);
  co_return error;
}

// The status that a head deserves which could not be read; none if the other side has gone.
std::optional<int> status_for(const error_code& error) {
  const bool is_read = error.category() == make_error_code(http::error::bad_method).category() &&
                       error != http::error::end_of_stream && error != http::error::partial_message;
  if (!is_read) return std::nullopt;
  return error == http::error::header_limit ? 431 : 400;
}

// Requests one after the other until one of the two has enough.
template <class Stream>
asio::awaitable<void> converse(Stream& stream, const Site& site, Hosts hosts) {
  beast::flat_buffer buffer;
  while (true) {
    http::request_parser<http::empty_body> parser;
    parser.header_limit(kLongestHead);
    beast::get_lowest_layer(stream).expires_after(std::chrono::seconds(kPatience));
    const auto [error, size] = co_await http::async_read_header(stream, buffer, parser, kAwait);
    if (error) {
      if (const std::optional<int> status = status_for(error)) {
        const Answer refusal = refuse(site, *status);
        co_await send(stream, refusal, Sending{});
      }
      co_return;
    }
    const auto& request = parser.get();
    // A request that brings a body is answered and ends the connection: the body is not read.
    const Sending how{.version = request.version(),
                      .head_only = request.method() == http::verb::head,
                      .keep_alive = request.keep_alive() && parser.is_done()};
    const Answer given = answer_to(site, request, hosts);
    const error_code unsent = co_await send(stream, given, how);
    if (unsent || !how.keep_alive) co_return;
  }
}

// Closing while unread bytes lie there would tear away the answer that is on its way
// [rfc9112, 9.6]: they are read first, though not for ever.
asio::awaitable<void> linger(Plain& stream) {
  error_code ignored;
  stream.socket().shutdown(tcp::socket::shutdown_send, ignored);
  stream.expires_after(kLeave);
  char scrap[4096];
  for (std::size_t left = std::size_t{256} << 10; left >= sizeof scrap; left -= sizeof scrap) {
    const auto [error, size] = co_await stream.async_read_some(asio::buffer(scrap), kAwait);
    if (error) co_return;
  }
}

asio::awaitable<void> serve_plain(Plain stream, const Site& site) {
  co_await converse(stream, site, Hosts::kThisComputer);
  co_await linger(stream);
}

asio::awaitable<void> serve_secure(Plain plain, const Site& site, asio::ssl::context& tls) {
  Secure stream(std::move(plain), tls);
  beast::get_lowest_layer(stream).expires_after(std::chrono::seconds(kPatience));
  const auto [error] = co_await stream.async_handshake(asio::ssl::stream_base::server, kAwait);
  if (error) co_return;
  co_await converse(stream, site, Hosts::kAny);
  beast::get_lowest_layer(stream).expires_after(kLeave);
  co_await stream.async_shutdown(kAwait);
  co_await linger(beast::get_lowest_layer(stream));
}

error_code listen(tcp::acceptor& acceptor, const tcp::endpoint& at) {
  error_code error;
  const auto step = [&](auto&&... call) {
    if (!error) acceptor.set_option(call..., error);
  };
  acceptor.open(at.protocol(), error);
  step(tcp::acceptor::reuse_address(true));
  // Each family by a socket of its own.
  if (at.address().is_v6()) step(asio::ip::v6_only(true));
  if (!error) acceptor.bind(at, error);
  if (!error) acceptor.listen(asio::socket_base::max_listen_connections, error);
  return error;
}

bool is_lacking(const error_code& error) {
  return error == asio::error::address_family_not_supported || error.value() == EADDRNOTAVAIL;
}

}  // namespace

struct Server::Inside {
  Inside(Site its_site, TlsContext its_tls)
      : site(std::move(its_site)), tls(std::move(its_tls)), signals(io, SIGINT, SIGTERM) {}

  // What went wrong, and at which address.
  struct Trouble {
    error_code error;
    std::string address;
  };
  Trouble listen_all(const Where& where);
  asio::awaitable<void> accept(tcp::acceptor& acceptor);
  asio::awaitable<void> serve(tcp::socket socket);

  Site site;
  TlsContext tls;
  std::size_t connections = 0;
  std::uint16_t port = 0;
  std::vector<std::string> addresses;
  asio::io_context io{1};  // below what its coroutines use to their end
  asio::signal_set signals;
  std::vector<tcp::acceptor> acceptors;
};

Server::Inside::Trouble Server::Inside::listen_all(const Where& where) {
  acceptors.clear();
  addresses.clear();
  port = where.port;
  Trouble lacking;
  for (const std::string& address : where.addresses) {
    tcp::acceptor acceptor(io);
    const error_code error = listen(acceptor, {asio::ip::make_address(address), port});
    if (is_lacking(error)) {
      lacking = {error, address};
      continue;
    }
    if (error) return {error, address};
    port = acceptor.local_endpoint().port();
    addresses.push_back(address);
    acceptors.push_back(std::move(acceptor));
  }
  return acceptors.empty() ? lacking : Trouble{};
}

asio::awaitable<void> Server::Inside::accept(tcp::acceptor& acceptor) {
  while (true) {
    auto [error, socket] = co_await acceptor.async_accept(kAwait);
    if (error) {
      // Out of sockets, most likely: others have to end first.
      asio::steady_timer pause(io, std::chrono::milliseconds(100));
      co_await pause.async_wait(kAwait);
    } else if (connections < kMostConnections) {
      asio::co_spawn(io, serve(std::move(socket)), asio::detached);
    }
  }
}

asio::awaitable<void> Server::Inside::serve(tcp::socket socket) {
  struct Counted {
    explicit Counted(std::size_t& its_count) : count(its_count) { ++count; }
    ~Counted() { --count; }
    Counted(const Counted&) = delete;
    Counted& operator=(const Counted&) = delete;
    std::size_t& count;
  };
  const Counted counted(connections);
  error_code ignored;
  socket.set_option(tcp::no_delay(true), ignored);
  Plain stream(std::move(socket));
  if (tls) {
    co_await serve_secure(std::move(stream), site, *tls);
  } else {
    co_await serve_plain(std::move(stream), site);
  }
}

Server::Server(std::unique_ptr<Inside> inside) : inside_(std::move(inside)) {}
Server::Server(Server&& other) noexcept = default;
Server::~Server() = default;

base::Result<Server> Server::open(const Where& where, Site site, TlsContext tls) {
  auto inside = std::make_unique<Inside>(std::move(site), std::move(tls));
  Inside::Trouble trouble = inside->listen_all(where);
  // The port that was free at one address may be taken at the next.
  constexpr int kTries = 20;
  for (int i = 0; i < kTries && where.port == 0 && trouble.error == asio::error::address_in_use;
       ++i) {
    trouble = inside->listen_all(where);
  }
  if (trouble.error) {
    const char* reason = trouble.error == asio::error::address_in_use  ? "taken"
                         : trouble.error == asio::error::access_denied ? "permission"
                         : is_lacking(trouble.error)                   ? "lacking"
                                                                       : "other";
    return base::Error{
        base::ErrorKind::kData,
        {"error.serve.place",
         {{"address", trouble.address}, {"port", std::to_string(where.port)}, {"reason", reason}}}};
  }
  return Server(std::move(inside));
}

const std::vector<std::string>& Server::addresses() const { return inside_->addresses; }
std::uint16_t Server::port() const { return inside_->port; }

void Server::run() {
  Inside& inside = *inside_;
  inside.signals.async_wait([&inside](error_code, int) { inside.io.stop(); });
  for (tcp::acceptor& acceptor : inside.acceptors) {
    asio::co_spawn(inside.io, inside.accept(acceptor), asio::detached);
  }
  inside.io.run();
}

}  // namespace drawoff::server
