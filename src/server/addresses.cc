#include "server/addresses.h"

#include <fmt/core.h>
#include <ifaddrs.h>
#include <net/if.h>
#include <netinet/in.h>

#include <array>
#include <boost/asio/ip/address.hpp>
#include <memory>
#include <optional>

namespace drawoff::server {

namespace {

namespace ip = boost::asio::ip;

std::optional<ip::address> parsed(std::string_view text) {
  boost::system::error_code error;
  const ip::address out = ip::make_address(std::string(text), error);
  if (error) return std::nullopt;
  return out;
}

std::optional<ip::address> address_in(const sockaddr* from) {
  if (from == nullptr) return std::nullopt;
  if (from->sa_family == AF_INET) {
    const auto* v4 = reinterpret_cast<const sockaddr_in*>(from);
    return ip::address_v4(ntohl(v4->sin_addr.s_addr));
  }
  if (from->sa_family == AF_INET6) {
    const auto* v6 = reinterpret_cast<const sockaddr_in6*>(from);
    return ip::address_v6(std::to_array(v6->sin6_addr.s6_addr));
  }
  return std::nullopt;
}

}  // namespace

bool is_address(std::string_view text) { return parsed(text).has_value(); }

bool is_loopback(std::string_view text) {
  const auto found = parsed(text);
  return found && found->is_loopback();
}

std::vector<std::string> reached_at(const std::string& address) {
  const auto wanted = parsed(address);
  if (!wanted || !wanted->is_unspecified()) return {address};
  std::vector<std::string> out;
  ifaddrs* first = nullptr;
  if (getifaddrs(&first) != 0) return out;
  const std::unique_ptr<ifaddrs, decltype(&freeifaddrs)> owner(first, &freeifaddrs);
  for (const ifaddrs* at = first; at != nullptr; at = at->ifa_next) {
    const auto found = address_in(at->ifa_addr);
    if (!found || (at->ifa_flags & IFF_UP) == 0 || found->is_loopback()) continue;
    if (found->is_v4() != wanted->is_v4()) continue;
    if (found->is_v6() && found->to_v6().is_link_local()) continue;
    out.push_back(found->to_string());
  }
  return out;
}

std::string url_of(const Place& place) {
  const bool v6 = place.address.find(':') != std::string::npos;
  const std::string host = v6 ? '[' + place.address + ']' : place.address;
  return fmt::format("{}://{}:{}/", place.scheme, host, place.port);
}

}  // namespace drawoff::server
