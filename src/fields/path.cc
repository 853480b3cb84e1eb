#include "fields/path.h"

#include "fields/quote.h"

namespace drawoff::fields {

Path Path::operator/(std::string_view key) const {
  Path out;
  out.text_.reserve(text_.size() + key.size() + 1);
  out.text_ = text_;
  if (!text_.empty()) out.text_ += '.';
  out.text_ += one_line(key);
  return out;
}

Path Path::operator[](std::size_t index) const {
  Path out = *this;
  out.text_ += '[' + std::to_string(index) + ']';
  return out;
}

}  // namespace drawoff::fields
