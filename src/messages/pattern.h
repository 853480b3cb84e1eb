// Patterns of the catalogue taken apart: the message syntax described in catalogue.h.
//
// A pattern becomes a tree of nodes: literal text, an argument, or a choice (plural or select)
// between sub-patterns. Rendering and the pseudo-language both walk this tree.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace drawoff::messages {

struct Node;

struct Branch {
  std::string key;  // "one", "other", "=0", or a select value
  std::vector<Node> nodes;
};

struct Node {
  enum class Kind { kText, kArgument, kPlural, kSelect, kCount };  // kCount: '#' inside a plural
  Kind kind = Kind::kText;
  std::string text = {};  // the literal, or the argument's name
  std::vector<Branch> branches = {};
};

using Pattern = std::vector<Node>;

// None if the braces or a choice are malformed; `fault`, if given, gets a word on why.
std::optional<Pattern> parse_pattern(std::string_view text, std::string* fault = nullptr);

// The pattern in pseudo-English (en-XA); a malformed one comes back as it is.
std::string pseudo(std::string_view pattern);
// The same with each word turned to run from right to left (ar-XB): its letters stay, between
// marks.
std::string pseudo_bidi(std::string_view pattern);

}  // namespace drawoff::messages
