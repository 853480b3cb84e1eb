#include "fields/json.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <unordered_set>
#include <utility>
#include <vector>

#include "fields/quote.h"
#include "messages/number.h"

namespace drawoff::fields {

namespace {

using base::Error;
using base::ErrorKind;
using base::Message;
using base::Number;

Number count(std::size_t n) {
  const auto x = static_cast<double>(n);
  return {x, "", messages::digits_of(x)};
}

// A place in the text, for people (line and column from 1, columns in characters) and for programs
// (bytes from 0).
Error error_at(std::string_view text, std::size_t byte, Message message) {
  byte = std::min(byte, text.size());
  const std::string_view before = text.substr(0, byte);
  const auto lines = std::count(before.begin(), before.end(), '\n');
  const auto newline = before.rfind('\n');
  const std::string_view line =
      newline == std::string_view::npos ? before : before.substr(newline + 1);
  const auto columns = std::count_if(line.begin(), line.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xC0U) != 0x80;
  });
  message.arguments.emplace_back("line", count(static_cast<std::size_t>(lines) + 1));
  message.arguments.emplace_back("column", count(static_cast<std::size_t>(columns) + 1));
  message.arguments.emplace_back("byte", count(byte));
  return {ErrorKind::kData, std::move(message)};
}

// The byte offset of what is not UTF-8, if anything is not.
std::optional<std::size_t> not_utf8(std::string_view text) {
  std::size_t i = 0;
  while (i < text.size()) {
    const std::size_t length = utf8_length(text.substr(i));
    if (length == 0) return i;
    i += length;
  }
  return std::nullopt;
}

// Builds the value from the parser's events. Objects are filled by appending, after our own check
// for duplicates: the library's insertion looks through all keys, which is slow for large objects.
class Builder : public nlohmann::json_sax<Json> {
 public:
  enum class Fault { kNone, kSyntax, kNumber, kDuplicate, kDeep };

  Json root;
  Fault fault = Fault::kNone;
  std::size_t position = 0;
  std::string found;

  bool null() override { return add(nullptr) != nullptr; }
  bool boolean(bool value) override { return add(value) != nullptr; }
  bool number_integer(number_integer_t value) override { return add(value) != nullptr; }
  bool number_unsigned(number_unsigned_t value) override { return add(value) != nullptr; }
  bool number_float(number_float_t value, const string_t& /*text*/) override {
    return add(value) != nullptr;
  }
  bool string(string_t& value) override { return add(std::move(value)) != nullptr; }
  bool binary(binary_t& /*value*/) override { return false; }
  bool start_object(std::size_t /*size*/) override { return open(Json::object()); }
  bool start_array(std::size_t /*size*/) override { return open(Json::array()); }
  bool end_object() override { return close(); }
  bool end_array() override { return close(); }
  bool key(string_t& value) override {
    Level& level = levels_.back();
    if (!level.keys.insert(value).second) {
      fault = Fault::kDuplicate;
      found = value;
      return false;
    }
    level.key = std::move(value);
    return true;
  }
  bool parse_error(std::size_t at,
                   const std::string& token,
                   const nlohmann::json::exception& why) override {
    // 406: a number that no double can hold.
    fault = why.id == 406 ? Fault::kNumber : Fault::kSyntax;
    position = at;
    found = token;
    return false;
  }

 private:
  struct Level {
    Json* json;
    std::string key = {};
    std::unordered_set<std::string> keys = {};
  };

  Json* add(Json value) {
    if (levels_.empty()) {
      root = std::move(value);
      return &root;
    }
    Level& level = levels_.back();
    if (auto* object = level.json->get_ptr<Json::object_t*>()) {
      object->Container::emplace_back(std::move(level.key), std::move(value));
      return &object->back().second;
    }
    auto* array = level.json->get_ptr<Json::array_t*>();
    array->push_back(std::move(value));
    return &array->back();
  }

  bool open(Json value) {
    if (levels_.size() >= static_cast<std::size_t>(kDeepestJson)) {
      fault = Fault::kDeep;
      return false;
    }
    levels_.push_back({add(std::move(value))});
    return true;
  }

  bool close() {
    levels_.pop_back();
    return true;
  }

  std::vector<Level> levels_;
};

// Where the parser stood when a handler said no: the library does not tell, so the bytes it has
// taken are counted on the way in.
struct CountingIterator {
  using iterator_category = std::input_iterator_tag;
  using value_type = char;
  using difference_type = std::ptrdiff_t;
  using pointer = const char*;
  using reference = const char&;

  const char* at = nullptr;
  std::size_t* taken = nullptr;

  reference operator*() const { return *at; }
  CountingIterator& operator++() {
    ++at;
    ++*taken;
    return *this;
  }
  CountingIterator operator++(int) {
    const CountingIterator before = *this;
    ++*this;
    return before;
  }
  friend bool operator!=(const CountingIterator& a, const CountingIterator& b) {
    return a.at != b.at;
  }
};

bool is_blank(std::string_view text) {
  return text.find_first_not_of(" \t\r\n") == std::string_view::npos;
}

}  // namespace

base::Result<Json> parse_json(std::string_view text) {
  if (text.size() > kLargestJson) {
    const auto mib = [](std::size_t bytes) {
      return Number{std::ceil(static_cast<double>(bytes) / (1 << 20) * 10) / 10, "MiB", 3};
    };
    return Error{ErrorKind::kData,
                 {"error.json.large", {{"size", mib(text.size())}, {"limit", mib(kLargestJson)}}}};
  }
  if (const auto byte = not_utf8(text)) {
    return error_at(text, *byte, {"error.json.encoding"});
  }
  if (is_blank(text)) return Error{ErrorKind::kData, {"error.json.empty"}};

  Builder builder;
  std::size_t taken = 0;
  const bool good = Json::sax_parse(CountingIterator{text.data(), &taken},
                                    CountingIterator{text.data() + text.size(), &taken},
                                    &builder);
  if (good) return std::move(builder.root);
  const std::size_t last = taken > 0 ? taken - 1 : 0;
  switch (builder.fault) {
    case Builder::Fault::kDuplicate:
      return error_at(text, last, {"error.json.duplicate", {{"key", quote_text(builder.found)}}});
    case Builder::Fault::kDeep:
      return error_at(
          text,
          last,
          {"error.json.deep", {{"limit", count(static_cast<std::size_t>(kDeepestJson))}}});
    case Builder::Fault::kNumber: {
      // The number ends where the parser stands; people look for its start.
      const std::size_t start = text.rfind(builder.found, last);
      return error_at(text,
                      start == std::string_view::npos ? last : start,
                      {"error.json.number", {{"found", one_line(builder.found)}}});
    }
    case Builder::Fault::kSyntax:
    case Builder::Fault::kNone:
      break;
  }
  // The parser's position counts the bytes it has read, the offending one included.
  if (builder.position > text.size()) return error_at(text, text.size(), {"error.json.truncated"});
  const std::size_t byte = builder.position > 0 ? builder.position - 1 : 0;
  const std::string_view found = text.substr(byte, utf8_length(text.substr(byte)));
  return error_at(text, byte, {"error.json.syntax", {{"found", quote_text(found)}}});
}

std::string dump(const Json& json, int indent) {
  return json.dump(indent, ' ', false, Json::error_handler_t::replace);
}

Json json_number(double x) {
  if (!std::isfinite(x)) return nullptr;
  // Below 2^53 every whole double is an integer of JSON without loss.
  if (x == std::floor(x) && std::abs(x) < 9007199254740992.0) {
    return static_cast<std::int64_t>(x);
  }
  return x;
}

}  // namespace drawoff::fields
