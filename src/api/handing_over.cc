#include "api/handing_over.h"

namespace drawoff::api {

using base::Message;

std::optional<HandedOverOutput> handed_over_output(const SiteState& state) {
  if (!state.handed_over) return std::nullopt;
  const auto& over = *state.handed_over;
  return HandedOverOutput{
      .entry = over.id, .at = over.at, .holds = !state.changed_since, .said = over.body};
}

std::vector<Message> handed_over_in_words(const SiteState& state) {
  if (!state.handed_over) return {};
  const book::HandedOverEntry& entry = state.handed_over->body;
  Message who{entry.nobody ? "job.handed_over.nobody" : "job.handed_over.received",
              {{"date", state.handed_over->at.substr(0, 10)},
               {"technician", entry.technician},
               {"receiver", entry.receiver}}};
  if (entry.nobody) who.arguments.emplace_back("reason", nobody_because(entry));
  std::vector<Message> out{std::move(who)};
  if (state.changed_since) out.push_back({"job.handed_over.changed"});
  return out;
}

base::Argument nobody_because(const book::HandedOverEntry& entry) {
  if (entry.nobody == book::Nobody::kOther) return entry.note;
  return base::Ref{"choice.nobody." + std::string(fields::name_of(*entry.nobody))};
}

std::string left_to_right(const std::string& telephone) {
  return telephone.empty() ? "" : "\u2066" + telephone + "\u2069";
}

Call call_of(const SiteState& state, const Call& asked) {
  Call call = asked;
  if (!state.handed_over) return call;
  const book::HandedOverEntry& said = state.handed_over->body;
  const auto fill = [](std::string& into, const std::string& from) {
    if (into.empty()) into = from;
  };
  fill(call.telephone, said.telephone);
  fill(call.who, said.firm);
  if (!call.telephone.empty()) fill(call.who, said.technician);
  if (!state.changed_since) fill(call.next_visit, said.next_visit);
  return call;
}

}  // namespace drawoff::api
