// JSON, checked: the one reader and the one writer of JSON texts.
//
// The library underneath aborts on a wrong type when exceptions are off, so nobody calls get<T>()
// or at(): read.h reads structs, and get_ptr<...>() asks. Objects keep the order of their keys.
//
//   TRY(Json json, parse_json(text));
//   std::string again = dump(json);
//
// Refused, each with one sentence that gives line, column and byte: what is not JSON [rfc8259],
// text that is not UTF-8, a key twice in one object (which of the two was meant?), a number beyond
// double, more than kDeepestJson levels, more than kLargestJson bytes.
#pragma once

#include <cstddef>
#include <nlohmann/json.hpp>
#include <string>
#include <string_view>

#include "base/result.h"

namespace drawoff::fields {

using Json = nlohmann::ordered_json;

inline constexpr int kDeepestJson = 64;
inline constexpr std::size_t kLargestJson = std::size_t{16} << 20;  // 16 MiB

base::Result<Json> parse_json(std::string_view text);

// On one line, or indented by this many spaces. Numbers are the shortest that read back the same.
std::string dump(const Json& json, int indent = -1);

// A number for JSON: whole ones without ".0". What is no number (NaN, ∞) is null.
Json json_number(double x);

}  // namespace drawoff::fields
