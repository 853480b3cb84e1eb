// Result<T>: a value, or the one sentence that says why there is none.
//
// For what people or the world cause: a missing field, a value out of range, a file that is not
// JSON. A bug is a CHECK (check.h); a solver that did not converge says so inside its own result.
//
//   Result<Plate> plate = read_plate(json);
//   if (!plate) return plate.error();
// or
//   TRY(Plate plate, read_plate(json));
#pragma once

#include <optional>
#include <type_traits>
#include <utility>

#include "base/check.h"
#include "base/message.h"

namespace drawoff::base {

// Kept few and stable, for programs; the text is for people.
enum class ErrorKind {
  kUsage,    // asked for something that does not exist
  kData,     // a field is missing, malformed, out of range or contradicts another
  kVersion,  // made by a newer program
};

struct Error {
  ErrorKind kind = ErrorKind::kData;
  Message message;
};

template <class T>
class [[nodiscard]] Result {
 public:
  // NOLINTNEXTLINE(google-explicit-constructor): a value converts to a successful result.
  Result(T value) : value_(std::move(value)) {}
  // NOLINTNEXTLINE(google-explicit-constructor): an error converts to a failed result.
  Result(Error error) : error_(std::move(error)) {}

  explicit operator bool() const { return value_.has_value(); }
  const T& operator*() const& { return value(); }
  T&& operator*() && { return std::move(*this).value(); }
  const T* operator->() const { return &value(); }
  const T& value() const& {
    CHECK(value_.has_value());
    return *value_;
  }
  T&& value() && {
    CHECK(value_.has_value());
    return std::move(*value_);
  }
  const Error& error() const {
    CHECK(!value_.has_value());
    return error_;
  }

 private:
  std::optional<T> value_;
  Error error_;
};

// The result of an action that returns nothing.
struct Done {};

}  // namespace drawoff::base

#define DRAWOFF_CONCAT_INNER(a, b) a##b
#define DRAWOFF_CONCAT(a, b) DRAWOFF_CONCAT_INNER(a, b)
// TRY(declaration, expression): declares the value, or returns the error to the caller.
#define TRY(declaration, ...)                          \
  auto DRAWOFF_CONCAT(try_, __LINE__) = (__VA_ARGS__); \
  if (!DRAWOFF_CONCAT(try_, __LINE__)) {               \
    return DRAWOFF_CONCAT(try_, __LINE__).error();     \
  }                                                    \
  declaration = std::move(DRAWOFF_CONCAT(try_, __LINE__)).value()
