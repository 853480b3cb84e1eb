#include "messages/pattern.h"

#include <algorithm>
#include <array>
#include <utility>

namespace drawoff::messages {

namespace {

// A pattern's depth is that of its choices within choices; nobody writes more than three.
constexpr int kDeepest = 6;

std::string_view trimmed(std::string_view text) {
  const auto first = text.find_first_not_of(" \n\t");
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(" \n\t") - first + 1);
}

class Parser {
 public:
  Parser(std::string_view text, std::string* fault) : text_(text), fault_(fault) {}

  std::optional<Pattern> all() {
    std::optional<Pattern> out = nodes(0, false);
    if (out && at_ < text_.size()) return fail("unexpected }");
    return out;
  }

 private:
  std::nullopt_t fail(const char* why) {
    if (fault_ != nullptr) *fault_ = why;
    return std::nullopt;
  }

  // Up to the closing brace, which is left, or the end.
  std::optional<Pattern> nodes(int depth, bool in_plural) {
    if (depth > kDeepest) return fail("too deep");
    Pattern out;
    std::string literal;
    const auto flush = [&] {
      if (!literal.empty()) out.push_back({Node::Kind::kText, std::exchange(literal, {})});
    };
    while (at_ < text_.size() && text_[at_] != '}') {
      const char c = text_[at_];
      if (c == '{') {
        flush();
        std::optional<Node> node = argument(depth, in_plural);
        if (!node) return std::nullopt;
        out.push_back(std::move(*node));
      } else if (c == '#' && in_plural) {
        flush();
        out.push_back({Node::Kind::kCount});
        ++at_;
      } else {
        literal += c;
        ++at_;
      }
    }
    flush();
    return out;
  }

  std::optional<Node> argument(int depth, bool in_plural) {
    ++at_;  // {
    const auto end = text_.find_first_of(",{}", at_);
    if (end == std::string_view::npos) return fail("no closing }");
    Node node{Node::Kind::kArgument, std::string(trimmed(text_.substr(at_, end - at_)))};
    if (node.text.empty()) return fail("argument without a name");
    at_ = end;
    if (text_[at_] == '}') {
      ++at_;
      return node;
    }
    if (text_[at_] == '{') return fail("{ in an argument's name");
    const auto comma = text_.find(',', at_ + 1);
    if (comma == std::string_view::npos) return fail("choice without branches");
    const std::string_view kind = trimmed(text_.substr(at_ + 1, comma - at_ - 1));
    if (kind != "plural" && kind != "select") return fail("neither plural nor select");
    node.kind = kind == "plural" ? Node::Kind::kPlural : Node::Kind::kSelect;
    at_ = comma + 1;
    bool has_other = false;
    for (;;) {
      const auto brace = text_.find_first_of("{}", at_);
      if (brace == std::string_view::npos) return fail("no closing }");
      const std::string_view key = trimmed(text_.substr(at_, brace - at_));
      at_ = brace + 1;
      if (text_[brace] == '}') {
        if (!key.empty()) return fail("branch without { }");
        break;
      }
      if (key.empty()) return fail("branch without a key");
      const bool counts = node.kind == Node::Kind::kPlural || in_plural;
      std::optional<Pattern> inner = nodes(depth + 1, counts);
      if (!inner) return std::nullopt;
      if (at_ >= text_.size()) return fail("no closing }");
      ++at_;  // }
      has_other = has_other || key == "other";
      node.branches.push_back({std::string(key), std::move(*inner)});
    }
    if (!has_other) return fail("choice without other");
    return node;
  }

  std::string_view text_;
  std::size_t at_ = 0;
  std::string* fault_;
};

std::string_view accented(char c) {
  static constexpr std::array<std::pair<char, std::string_view>, 52> kLetters = {{
      {'a', "á"}, {'b', "ƀ"}, {'c', "ç"}, {'d', "ð"}, {'e', "é"}, {'f', "ƒ"}, {'g', "ğ"},
      {'h', "ĥ"}, {'i', "î"}, {'j', "ĵ"}, {'k', "ķ"}, {'l', "ľ"}, {'m', "ɱ"}, {'n', "ñ"},
      {'o', "ö"}, {'p', "þ"}, {'q', "ʠ"}, {'r', "ř"}, {'s', "š"}, {'t', "ţ"}, {'u', "û"},
      {'v', "ṽ"}, {'w', "ŵ"}, {'x', "ẋ"}, {'y', "ý"}, {'z', "ž"}, {'A', "Å"}, {'B', "Ɓ"},
      {'C', "Ç"}, {'D', "Ð"}, {'E', "É"}, {'F', "Ƒ"}, {'G', "Ğ"}, {'H', "Ĥ"}, {'I', "Î"},
      {'J', "Ĵ"}, {'K', "Ķ"}, {'L', "Ľ"}, {'M', "Ṁ"}, {'N', "Ñ"}, {'O', "Ö"}, {'P', "Þ"},
      {'Q', "Ǫ"}, {'R', "Ř"}, {'S', "Š"}, {'T', "Ţ"}, {'U', "Û"}, {'V', "Ṽ"}, {'W', "Ŵ"},
      {'X', "Ẋ"}, {'Y', "Ý"}, {'Z', "Ž"},
  }};
  for (const auto& [plain, accent] : kLetters) {
    if (plain == c) return accent;
  }
  return {};
}

bool is_vowel(char c) { return std::string_view("aeiouAEIOU").find(c) != std::string_view::npos; }

// Letters take accents and vowels are doubled; what that leaves short of 40 % is made up by '~'.
std::string lengthened(std::string_view text) {
  std::string out;
  std::size_t letters = 0;
  std::size_t written = 0;
  for (char c : text) {
    if ((static_cast<unsigned char>(c) & 0xC0U) == 0x80) {
      out += c;  // inside a character that is not ASCII
      continue;
    }
    ++letters;
    ++written;
    const std::string_view accent = accented(c);
    if (accent.empty()) {
      out += c;
      continue;
    }
    out += accent;
    if (is_vowel(c)) {
      out += accent;
      ++written;
    }
  }
  // Only for words: a comma between two arguments stays a comma.
  const bool words = letters > 3;
  for (; words && 10 * written < 14 * letters; ++written) out += '~';
  return out;
}

// Between a right-to-left mark and override and the ends of both, word by word, so that lines break
// where they would.
std::string turned(std::string_view text) {
  std::string out;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(text.find(' ', at), text.size());
    const std::string_view word = text.substr(at, end - at);
    const bool letters =
        std::any_of(word.begin(), word.end(), [](char c) { return !accented(c).empty(); });
    if (letters) out += "\u200F\u202E";
    out += word;
    if (letters) out += "\u202C\u200F";
    if (end < text.size()) out += ' ';
    at = end + 1;
  }
  return out;
}

// The pattern written again, its literal texts by `written`.
void rewrite(const Pattern& pattern, std::string (*written)(std::string_view), std::string& out) {
  for (const Node& node : pattern) {
    switch (node.kind) {
      case Node::Kind::kText:
        out += written(node.text);
        break;
      case Node::Kind::kArgument:
        out += '{' + node.text + '}';
        break;
      case Node::Kind::kCount:
        out += '#';
        break;
      case Node::Kind::kPlural:
      case Node::Kind::kSelect:
        out += '{' + node.text + (node.kind == Node::Kind::kPlural ? ", plural," : ", select,");
        for (const Branch& branch : node.branches) {
          out += ' ' + branch.key + " {";
          rewrite(branch.nodes, written, out);
          out += '}';
        }
        out += '}';
        break;
    }
  }
}

}  // namespace

std::optional<Pattern> parse_pattern(std::string_view text, std::string* fault) {
  return Parser(text, fault).all();
}

std::string pseudo(std::string_view pattern) {
  const std::optional<Pattern> parsed = parse_pattern(pattern);
  if (!parsed) return std::string(pattern);
  std::string out = "[";
  rewrite(*parsed, lengthened, out);
  return out + "]";
}

std::string pseudo_bidi(std::string_view pattern) {
  const std::optional<Pattern> parsed = parse_pattern(pattern);
  if (!parsed) return std::string(pattern);
  std::string out;
  rewrite(*parsed, turned, out);
  return out;
}

}  // namespace drawoff::messages
