#include "api/say_screen.h"

#include "messages/number.h"

namespace drawoff::api {

base::Result<SayOutput> ask_say(const SayInput& in,
                                Working& /*working*/,
                                const messages::Catalogue& words) {
  base::Message message{in.id};
  for (const SayText& t : in.texts) message.arguments.emplace_back(t.key, t.text);
  for (const SayNumber& n : in.numbers) {
    const int digits = n.digits.value_or(messages::digits_of(n.value));
    message.arguments.emplace_back(n.key, base::Number{n.value, n.unit, digits});
  }
  return SayOutput{messages::render(words, message)};
}

base::Result<WordsOutput> ask_words(const WordsInput& /*in*/,
                                    Working& /*working*/,
                                    const messages::Catalogue& words) {
  WordsOutput out{.language = words.language()};
  for (auto& id : words.ids()) {
    const std::string* pattern = words.find(id);
    if (messages::arguments_of(*pattern).empty()) out.texts.push_back({std::move(id), *pattern});
  }
  return out;
}

}  // namespace drawoff::api
