#include "api/blend_words.h"

#include <cmath>

#include "api/blend_limits.h"
#include "api/say.h"
#include "fields/errors.h"
#include "messages/number.h"

namespace drawoff::api {
namespace {

using base::Message;
using base::Number;
using visit::BlendStanding;

constexpr int kSixteen = 16;
constexpr double kHardlyMore = 0.1;  // [min]
// Of a sixteenth: what a number that was typed in decimals may be off.
constexpr double kRounding = 1e-6;

int sixteenths(double turns) { return static_cast<int>(std::lround(turns * kSixteen)); }

std::string in_sixteenths(int all) {
  int part = all % kSixteen;
  int of = kSixteen;
  while (part > 0 && part % 2 == 0) {
    part /= 2;
    of /= 2;
  }
  const std::string fraction =
      part > 0 ? std::to_string(part) + "/" + std::to_string(of) : std::string();
  if (all < kSixteen) return part > 0 ? fraction : "0";
  return std::to_string(all / kSixteen) + (part > 0 ? " " + fraction : "");
}

// The form of words for so many sixteenths.
std::string kind_of(int all) {
  if (all > kSixteen) return "more";
  switch (all) {
    case 0:
      return "shut";
    case 1:
      return "sixteenth";
    case 2:
      return "eighth";
    case 4:
      return "quarter";
    case 8:
      return "half";
    case 12:
      return "three_quarters";
    case kSixteen:
      return "one";
    default:
      return "part";
  }
}

// In whole per cent, a small one to two digits.
Number share_of(std::optional<double> share) {
  const double value = messages::rounded(100 * share.value_or(0), 2);
  return {value, "%", messages::digits_of(value)};
}

}  // namespace

SaidTurns advised_turns(double turns) {
  const int all = sixteenths(turns);
  return {in_sixteenths(all), kind_of(all)};
}

SaidTurns own_turns(double turns) {
  const double off = turns * kSixteen - sixteenths(turns);
  if (std::fabs(off) < kRounding) return advised_turns(turns);
  return {fields::given_number(turns, nullptr), turns < 1 ? "part" : "more"};
}

std::string turns_in_words(const SaidTurns& turns, const messages::Catalogue& words) {
  return messages::render(words, {"blend.turns", {{"n", turns.n}, {"is", turns.is}}});
}

units::Time whole_minutes(units::Time t) {
  return units::Time(60 * std::fmax(1, std::ceil(t.si() / 60 - kHardlyMore)));
}
Number minutes_of(units::Time t) {
  return fields::given_number(whole_minutes(t).si() / 60, units::unit_of_key("min"));
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

std::optional<Message> left_with_too_much(const visit::BlendLeftEntry& left) {
  if (visit::within_permitted(left)) return std::nullopt;
  const double permitted = left.permitted.value_or(0);
  if (permitted == 0) return Message{"blend.trouble.none"};
  if (left.share) return over_permitted(*left.share, permitted);
  return Message{"blend.trouble.not_known", {{"permitted", Number{100 * permitted, "%", 2}}}};
}

std::optional<Message> left_in_words(const SiteState& state) {
  if (!state.blend_left) {
    if (state.blend_turns.empty()) return std::nullopt;
    const SaidTurns turns = own_turns(state.blend_turns.back().body.turns);
    return Message{"blend.unfinished", {{"turns", turns.n}, {"is", turns.is}}};
  }
  const visit::BlendLeftEntry& left = state.blend_left->body;
  const SaidTurns turns = own_turns(left.turns);
  Message m{"blend.left"};
  const auto add = [&](const char* name, base::Argument value) {
    m.arguments.emplace_back(name, std::move(value));
  };
  const auto yes = [](bool is) { return std::string(is ? "yes" : "no"); };
  add("turns", turns.n);
  add("turns_is", turns.is);
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
  add("anew", yes(blend_is_unfinished(state)));
  return m;
}

}  // namespace drawoff::api
