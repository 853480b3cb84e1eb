// The scalars that the element is compiled for: values, the two unknowns of a rating plate or of
// a machine, and the parameters of a machine (machine/parameters.h).
#pragma once

#include "numerics/dual.h"

#define DRAWOFF_MEMBRANE_SCALARS(MACRO) \
  MACRO(double);                        \
  MACRO(::drawoff::numerics::Dual<2>);  \
  MACRO(::drawoff::numerics::Dual<16>)
