// A path: where in a document a value stands, as people write it: machine.elements[2].area_m2.
//
//   Path path = Path("machine") / "elements";
//   path[2].text();   // "machine.elements[2]"
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace drawoff::fields {

class Path {
 public:
  Path() = default;
  explicit Path(std::string_view root) : text_(root) {}

  // Keys may come from a file: control characters in them are escaped, long ones cut.
  Path operator/(std::string_view key) const;
  Path operator[](std::size_t index) const;

  const std::string& text() const { return text_; }
  bool is_root() const { return text_.empty(); }

 private:
  std::string text_;
};

}  // namespace drawoff::fields
