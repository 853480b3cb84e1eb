#include "messages/catalogue.h"

#include <nlohmann/json.hpp>

#include "base/check.h"
#include "data/embedded.h"
#include "messages/pattern.h"

namespace drawoff::messages {

Catalogue::Catalogue(std::string_view json, std::string_view language) : language_(language) {
  const nlohmann::json texts = nlohmann::json::parse(json, nullptr, false);
  CHECK(texts.is_object());
  for (const auto& [id, text] : texts.items()) {
    const auto* pattern = text.get_ptr<const std::string*>();
    CHECK(pattern != nullptr);
    texts_.emplace(id, language == "en-XA" ? pseudo(*pattern) : *pattern);
  }
}

const std::string* Catalogue::find(std::string_view id) const {
  const auto found = texts_.find(id);
  return found == texts_.end() ? nullptr : &found->second;
}

std::vector<std::string> Catalogue::ids() const {
  std::vector<std::string> out;
  out.reserve(texts_.size());
  for (const auto& [id, text] : texts_) out.push_back(id);
  return out;
}

void Catalogue::add(const Catalogue& other) {
  texts_.insert(other.texts_.begin(), other.texts_.end());
}

const Catalogue& catalogue(std::string_view language) {
  static const Catalogue kEnglish(data::file("messages/en.json"), "en");
  if (language == "en-XA") {
    static const Catalogue kPseudo(data::file("messages/en.json"), "en-XA");
    return kPseudo;
  }
  return kEnglish;
}

}  // namespace drawoff::messages
