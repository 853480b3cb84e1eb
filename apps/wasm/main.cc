// The engine as a WebAssembly module: three functions over linear memory, and no generated
// JavaScript. Why this shape: docs/decisions/0004-wasm-bridge.md.
//
//   drawoff_alloc(size)         -> address of `size` bytes to write to, 0 when out of memory
//   drawoff_free(address)       gives back what drawoff_alloc or drawoff_request returned
//   drawoff_request(address, n) -> address of the answer: its length (32 bits, little-endian),
//                                  then that many bytes of UTF-8 JSON; 0 when out of memory
//
// The request is the JSON text {"name": …, "input": {…}, "explain": bool} (api/api.h says what is
// answered). A loader calls _initialize once, then: alloc, write, request, read, free both. After a
// trap the module's memory is not to be trusted: start a fresh one.
#include <cstdint>
#include <cstdlib>
#include <cstring>
#include <string>
#include <string_view>

#include "api/api.h"

#define DRAWOFF_EXPORT(name) extern "C" __attribute__((export_name(#name)))

DRAWOFF_EXPORT(drawoff_alloc) void* drawoff_alloc(std::uint32_t size) { return std::malloc(size); }

DRAWOFF_EXPORT(drawoff_free) void drawoff_free(void* memory) { std::free(memory); }

DRAWOFF_EXPORT(drawoff_request) char* drawoff_request(const char* text, std::uint32_t length) {
  const std::string answer = drawoff::api::answer(std::string_view(text, length));
  const auto size = static_cast<std::uint32_t>(answer.size());
  auto* reply = static_cast<char*>(std::malloc(sizeof(size) + answer.size()));
  if (reply == nullptr) return nullptr;
  std::memcpy(reply, &size, sizeof(size));
  std::memcpy(reply + sizeof(size), answer.data(), answer.size());
  return reply;
}
