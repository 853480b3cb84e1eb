// CHECK: states what must hold if the program is right.
//
// A failed CHECK is a bug in Drawoff, never the fault of a person or of the world: those get a
// Result (result.h). It prints where and why and aborts; in the browser the worker then starts
// a fresh module.
#pragma once

#include <cstdio>
#include <cstdlib>

namespace drawoff::base {

[[noreturn]] inline void check_failed(const char* condition, const char* file, int line) {
  std::fprintf(stderr, "%s:%d: CHECK(%s) failed\n", file, line, condition);
  std::abort();
}

}  // namespace drawoff::base

#define CHECK(condition)                               \
  (static_cast<bool>(condition) ? static_cast<void>(0) \
                                : ::drawoff::base::check_failed(#condition, __FILE__, __LINE__))
