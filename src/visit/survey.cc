#include "visit/survey.h"

namespace drawoff::visit {

std::string_view authority_key(Authority authority) { return fields::name_of(authority); }

}  // namespace drawoff::visit
