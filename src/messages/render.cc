#include <algorithm>
#include <iterator>

#include "base/check.h"
#include "messages/catalogue.h"
#include "messages/number.h"
#include "messages/pattern.h"

namespace drawoff::messages {

namespace {

// Entries may name entries (a part within a phrase); more than this is a circle.
constexpr int kDeepest = 8;

// Marks that turn the direction of writing, and the one that ends what they began. What is closed
// again turns nothing outside itself.
struct Turns {
  std::string_view begin[4];
  std::string_view end;
  std::string_view lone;  // harmless wherever the others are

  bool has(std::string_view mark) const {
    return !mark.empty() &&
           (mark == end || mark == lone ||
            std::find(std::begin(begin), std::end(begin), mark) != std::end(begin));
  }
  bool closed(std::string_view text) const {
    int open = 0;
    for (std::size_t i = 0; i < text.size(); ++i) {
      const std::string_view mark = text.substr(i, 3);
      if (mark == end && --open < 0) return false;
      if (mark != end && mark != lone && has(mark)) ++open;
    }
    return open == 0;
  }
};
constexpr Turns kIsolates{{"\u2066", "\u2067", "\u2068"}, "\u2069", {}};
constexpr Turns kOverrides{{"\u202A", "\u202B", "\u202D", "\u202E"}, "\u202C", "\u200F"};

// What a person or a file gave is shown without its control characters: a terminal would obey them.
// C0, DEL, C1 and the marks that turn the direction of writing become the replacement character.
// Closed isolates stay, for our own quantities carry them; and, in a language from right to left,
// closed overrides, for our own words may.
std::string harmless(std::string_view text, bool from_right) {
  static constexpr std::string_view kMarks[] = {"\u061C", "\u200E", "\u2028", "\u2029"};
  const bool isolates = kIsolates.closed(text);
  const bool overrides = from_right && kOverrides.closed(text);
  std::string out;
  for (std::size_t i = 0; i < text.size();) {
    const auto c = static_cast<unsigned char>(text[i]);
    std::size_t length = 0;
    if (c < 0x20 || c == 0x7F) length = 1;
    if (c == 0xC2 && i + 1 < text.size() && static_cast<unsigned char>(text[i + 1]) < 0xA0) {
      length = 2;
    }
    for (const std::string_view mark : kMarks) {
      if (text.substr(i, mark.size()) == mark) length = mark.size();
    }
    const std::string_view three = text.substr(i, 3);
    if ((!isolates && kIsolates.has(three)) || (!overrides && kOverrides.has(three))) {
      length = three.size();
    }
    if (length > 0) {
      out += "\uFFFD";
      i += length;
    } else {
      out += text[i++];
    }
  }
  return out;
}

class Renderer {
 public:
  Renderer(const Catalogue& catalogue, const base::Message& message, int depth)
      : catalogue_(catalogue), message_(message), depth_(depth) {}

  std::string all() {
    const std::string* text = catalogue_.find(message_.id);
    if (text == nullptr || depth_ > kDeepest) return message_.id;
    const std::optional<Pattern> pattern = parse_pattern(*text);
    if (!pattern) return *text;
    std::string out;
    write(*pattern, nullptr, out);
    return out;
  }

 private:
  const base::Argument* find(std::string_view name) const {
    for (const auto& [key, value] : message_.arguments) {
      if (key == name) return &value;
    }
    return nullptr;
  }

  // In a language from right to left a text keeps its own direction (FSI … PDI, Unicode UAX 9), as
  // a quantity does anyway.
  std::string text_of(const base::Argument& argument) const {
    const bool number = std::holds_alternative<base::Number>(argument);
    if (number || !right_to_left(catalogue_.language())) return bare(argument);
    return "\u2068" + bare(argument) + "\u2069";
  }

  std::string bare(const base::Argument& argument) const {
    const bool from_right = right_to_left(catalogue_.language());
    if (const auto* text = std::get_if<std::string>(&argument)) return harmless(*text, from_right);
    if (const auto* where = std::get_if<base::Where>(&argument)) {
      return harmless(where->path, from_right);
    }
    if (const auto* number = std::get_if<base::Number>(&argument)) {
      return format_quantity(*number, catalogue_.language());
    }
    return Renderer(catalogue_, base::Message{std::get_if<base::Ref>(&argument)->id}, depth_ + 1)
        .all();
  }

  // English and its kin: one is what is written "1". Spanish counts "1.0" as one too,
  // French and Portuguese 0 to below 2, Hindi 0 to 1 (Unicode CLDR, from memory).
  std::string_view plural_of(const base::Number& number) const {
    const std::string_view language = std::string_view(catalogue_.language()).substr(0, 2);
    if (language == "fr" || language == "pt") {
      return number.value >= 0 && number.value < 2 ? "one" : "other";
    }
    if (language == "es") return rounded(number.value, number.digits) == 1 ? "one" : "other";
    if (language == "hi") return number.value >= 0 && number.value <= 1 ? "one" : "other";
    return format_number(number.value, number.digits, "en") == "1" ? "one" : "other";
  }

  const Branch& branch_of(const Node& node) const {
    const base::Argument* argument = find(node.text);
    const auto named = [&node](std::string_view key) -> const Branch* {
      const auto found = std::find_if(node.branches.begin(),
                                      node.branches.end(),
                                      [key](const Branch& b) { return b.key == key; });
      return found == node.branches.end() ? nullptr : &*found;
    };
    const Branch* branch = nullptr;
    if (argument != nullptr && node.kind == Node::Kind::kSelect) {
      if (const auto* text = std::get_if<std::string>(argument)) branch = named(*text);
    } else if (argument != nullptr) {
      if (const auto* number = std::get_if<base::Number>(argument)) {
        branch = named("=" + format_number(number->value, number->digits, "en"));
        if (branch == nullptr) branch = named(plural_of(*number));
      }
    }
    // The parser lets no choice pass without "other".
    if (branch == nullptr) branch = named("other");
    CHECK(branch != nullptr);
    return *branch;
  }

  void write(const Pattern& pattern, const base::Argument* counted, std::string& out) const {
    for (const Node& node : pattern) {
      switch (node.kind) {
        case Node::Kind::kText:
          out += node.text;
          break;
        case Node::Kind::kArgument: {
          const base::Argument* argument = find(node.text);
          out += argument != nullptr ? text_of(*argument) : '{' + node.text + '}';
          break;
        }
        case Node::Kind::kCount:
          out += counted != nullptr ? text_of(*counted) : "#";
          break;
        case Node::Kind::kPlural:
          write(branch_of(node).nodes, find(node.text), out);
          break;
        case Node::Kind::kSelect:
          write(branch_of(node).nodes, counted, out);
          break;
      }
    }
  }

  const Catalogue& catalogue_;
  const base::Message& message_;
  int depth_;
};

void collect(const Pattern& pattern, std::vector<std::string>& out) {
  for (const Node& node : pattern) {
    const bool names = node.kind != Node::Kind::kText && node.kind != Node::Kind::kCount;
    if (names && std::find(out.begin(), out.end(), node.text) == out.end()) {
      out.push_back(node.text);
    }
    for (const Branch& branch : node.branches) collect(branch.nodes, out);
  }
}

}  // namespace

std::string render(const Catalogue& catalogue, const base::Message& message) {
  return Renderer(catalogue, message, 0).all();
}

std::string fault_of(std::string_view pattern) {
  std::string fault;
  static_cast<void>(parse_pattern(pattern, &fault));
  return fault;
}

std::vector<std::string> arguments_of(std::string_view pattern) {
  std::vector<std::string> out;
  if (const auto parsed = parse_pattern(pattern)) collect(*parsed, out);
  return out;
}

}  // namespace drawoff::messages
