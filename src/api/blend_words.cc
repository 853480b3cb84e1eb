#include "api/blend_words.h"

#include <cmath>

#include "api/say.h"
#include "fields/errors.h"
#include "messages/number.h"

namespace drawoff::api {
namespace {

using base::Message;
using base::Number;
using visit::BlendStanding;

constexpr double kSixteen = 16;

// The form of words for so many turns.
std::string kind_of(double turns) {
  if (turns > 1) return "more";
  if (turns == 1) return "one";
  if (turns == 0) return "shut";
  const std::string sixteenths = in_sixteenths(turns);
  if (sixteenths == "1/16") return "sixteenth";
  if (sixteenths == "1/8") return "eighth";
  if (sixteenths == "1/4") return "quarter";
  if (sixteenths == "1/2") return "half";
  if (sixteenths == "3/4") return "three_quarters";
  return "part";
}

// In whole per cent, a small one to two digits.
Number share_of(std::optional<double> share) {
  const double value = messages::rounded(100 * share.value_or(0), 2);
  return {value, "%", messages::digits_of(value)};
}

}  // namespace

std::string in_sixteenths(double turns) {
  const auto all = static_cast<int>(std::lround(turns * kSixteen));
  int part = all % 16;
  int of = 16;
  while (part > 0 && part % 2 == 0) {
    part /= 2;
    of /= 2;
  }
  const std::string fraction =
      part > 0 ? std::to_string(part) + "/" + std::to_string(of) : std::string();
  if (all < 16) return part > 0 ? fraction : "0";
  return std::to_string(all / 16) + (part > 0 ? " " + fraction : "");
}

std::string turns_in_words(double turns, const messages::Catalogue& words) {
  return messages::render(words,
                          {"blend.turns", {{"n", in_sixteenths(turns)}, {"is", kind_of(turns)}}});
}

std::vector<const char*> instead_of(BlendStanding standing) {
  switch (standing) {
    case BlendStanding::kTooCoarse:
    case BlendStanding::kNotHeld:
      return {"blend.instead.capillary", "blend.instead.cartridge", "blend.instead.none"};
    case BlendStanding::kTooSmall:
      return {"blend.instead.larger", "blend.instead.cartridge", "blend.instead.none"};
    case BlendStanding::kNotPermitted:
    case BlendStanding::kRawTooWeak:
      return {"blend.instead.cartridge", "blend.instead.none"};
    case BlendStanding::kDoesNotFollow:
      return {"blend.instead.look", "blend.instead.capillary", "blend.instead.cartridge"};
    default:
      return {};
  }
}

std::optional<Message> left_in_words(const SiteState& state) {
  if (!state.blend_left) {
    if (state.blend_turns.empty()) return std::nullopt;
    const double turns = state.blend_turns.back().body.turns;
    return Message{"blend.unfinished", {{"turns", in_sixteenths(turns)}, {"is", kind_of(turns)}}};
  }
  const visit::BlendLeftEntry& left = state.blend_left->body;
  const bool begun = state.blend && state.blend->order > state.blend_left->order;
  Message m{"blend.left"};
  const auto add = [&](const char* name, base::Argument value) {
    m.arguments.emplace_back(name, std::move(value));
  };
  const auto yes = [](bool is) { return std::string(is ? "yes" : "no"); };
  add("turns", in_sixteenths(left.turns));
  add("turns_is", kind_of(left.turns));
  add("read", yes(left.value.has_value()));
  const std::string unit(visit::unit_of(left.unit).symbol);
  const double value = left.value.value_or(0);
  add("value", Number{value, unit, messages::digits_of(value)});
  add("shared", yes(left.share.has_value() && left.turns > 0));
  add("share", share_of(left.share));
  add("limited", yes(left.permitted.has_value() && left.turns > 0));
  add("permitted", share_of(left.permitted));
  add("sealed", std::string(!left.seal ? "no" : left.seal_number.empty() ? "yes" : "number"));
  add("seal", left.seal_number);
  add("reasoned", yes(!left.reason.empty()));
  add("reason", left.reason);
  add("anew", yes(begun));
  return m;
}

}  // namespace drawoff::api
