#include "messages/catalogue.h"

#include <algorithm>
#include <array>
#include <iterator>
#include <nlohmann/json.hpp>
#include <optional>
#include <utility>

#include "base/check.h"
#include "data/embedded.h"
#include "messages/pattern.h"

namespace drawoff::messages {

namespace {

struct Language {
  std::string_view tag;
  bool unread = false;
  bool pseudo = false;
};
constexpr Language kLanguages[] = {
    {"en"}, {"es", true}, {"hi", true}, {"en-XA", false, true}, {"ar-XB", false, true}};

const Language* find_language(std::string_view tag) {
  const auto* found = std::find_if(std::begin(kLanguages),
                                   std::end(kLanguages),
                                   [tag](const Language& l) { return l.tag == tag; });
  return found == std::end(kLanguages) ? nullptr : found;
}

bool is_flat(const nlohmann::json& texts) {
  return texts.is_object() &&
         std::all_of(texts.begin(), texts.end(), [](const auto& text) { return text.is_string(); });
}

std::string in_language(const std::string& pattern, std::string_view language) {
  if (language == "en-XA") return pseudo(pattern);
  if (language == "ar-XB") return pseudo_bidi(pattern);
  return pattern;
}

// With English where a translation is silent. None where nothing of the language was built in.
std::optional<Catalogue> made(const Language& language) {
  const std::string file = language.pseudo ? "en" : std::string(language.tag);
  const std::string_view json = data::file("messages/" + file + ".json");
  if (json.empty()) return std::nullopt;
  Catalogue out(json, language.tag);
  if (language.unread) out.add(catalogue("en"));
  return out;
}

// Each is made when it is first asked for.
template <std::size_t kIndex>
const Catalogue* built_in() {
  static const std::optional<Catalogue> kMade = made(kLanguages[kIndex]);
  return kMade ? &*kMade : nullptr;
}
template <std::size_t... kIndex>
const Catalogue* built_in_at(std::size_t index, std::index_sequence<kIndex...> /*all*/) {
  static constexpr std::array kMakers{&built_in<kIndex>...};
  return kMakers[index]();
}

std::map<std::string, Catalogue, std::less<>>& learned() {
  static std::map<std::string, Catalogue, std::less<>> kLearned;
  return kLearned;
}

}  // namespace

Catalogue::Catalogue(std::string_view json, std::string_view language) : language_(language) {
  const nlohmann::json texts = nlohmann::json::parse(json, nullptr, false);
  CHECK(is_flat(texts));
  for (const auto& [id, text] : texts.items()) {
    const auto* pattern = text.get_ptr<const std::string*>();
    texts_.emplace(id, in_language(*pattern, language));
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

std::span<const std::string_view> languages() {
  static constexpr auto kTags = [] {
    std::array<std::string_view, std::size(kLanguages)> tags{};
    for (std::size_t i = 0; i < tags.size(); ++i) tags[i] = kLanguages[i].tag;
    return tags;
  }();
  return kTags;
}

bool not_yet_read(std::string_view language) {
  const Language* known = find_language(language);
  return known != nullptr && known->unread;
}

bool right_to_left(std::string_view language) { return language == "ar-XB"; }

const Catalogue& catalogue(std::string_view language) {
  if (const auto found = learned().find(language); found != learned().end()) return found->second;
  const Language* known = find_language(language);
  const auto index = static_cast<std::size_t>(known == nullptr ? 0 : known - kLanguages);
  constexpr auto kAll = std::make_index_sequence<std::size(kLanguages)>();
  const Catalogue* found = built_in_at(index, kAll);
  return found != nullptr ? *found : *built_in_at(0, kAll);
}

bool learn(std::string_view language, std::string_view json) {
  const Language* known = find_language(language);
  if (known == nullptr || !known->unread) return false;
  if (!is_flat(nlohmann::json::parse(json, nullptr, false))) return false;
  Catalogue words(json, language);
  words.add(catalogue("en"));
  learned().insert_or_assign(std::string(language), std::move(words));
  return true;
}

}  // namespace drawoff::messages
