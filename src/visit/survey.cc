#include "visit/survey.h"

namespace drawoff::visit {

std::string_view authority_key(Authority authority) {
  for (const auto& choice : fields::EnumTable<Authority>::list) {
    if (choice.value == authority) return choice.name;
  }
  return "";
}

}  // namespace drawoff::visit
