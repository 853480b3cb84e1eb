// The network side of serving: connections in, answers (answer.h) out.
//
//   TRY(Server server, Server::open({.addresses = {"127.0.0.1"}, .port = 0}, std::move(site),
//   tls)); … server.port() … server.run();
//
// One thread does all: answers come from memory and are small. What a stranger can use up is
// bounded: the number of connections, the size of a request's head, and the time that anything may
// take.
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <vector>

#include "base/result.h"
#include "server/site.h"
#include "server/tls.h"

namespace drawoff::server {

inline constexpr std::size_t kMostConnections = 256;
inline constexpr std::size_t kLongestHead = std::size_t{8} << 10;  // bytes of a request's head
inline constexpr int kPatience = 10;      // seconds for a handshake, and for a request to have come
inline constexpr int kLongestSend = 120;  // seconds until an answer must have been taken

struct Where {
  // Numeric. Of several, those that this computer lacks are left out if one at least can be had.
  std::vector<std::string> addresses;
  std::uint16_t port = 0;  // 0: any that is free, the same at each address
};

class Server {
 public:
  // Listens; from now on until the end, SIGINT and SIGTERM are its own. Without `tls`, plain HTTP
  // and for this computer only. Fails, in a sentence, if a place is taken or not to be had.
  static base::Result<Server> open(const Where& where, Site site, TlsContext tls);
  Server(Server&& other) noexcept;
  ~Server();

  const std::vector<std::string>& addresses() const;
  std::uint16_t port() const;
  // Answers until SIGINT or SIGTERM.
  void run();

 private:
  struct Inside;
  explicit Server(std::unique_ptr<Inside> inside);
  std::unique_ptr<Inside> inside_;
};

}  // namespace drawoff::server
