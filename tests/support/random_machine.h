// Machines and waters that nobody chose: drawn over all that the plates may say, and beyond what a
// sensible person would assemble, so that a law is asked of everything that can be entered.
//
// Two kinds. random_case() is for laws that must hold for anything: wrong restrictors, blocked
// ones, blends wide open, outlets above what the supply can lift. typical_case() is for what people
// really hang on walls: parts that fit each other, with plates as complete or as bare as they come.
#pragma once

#include "machine/ensemble.h"
#include "numerics/random.h"
#include "visit/survey.h"

namespace drawoff::support {

// A neutral water of this mass concentration with random proportions of the common ions.
water::Composition random_water(numerics::Random& random, units::Density dissolved);

struct RandomCase {
  machine::Feed feed;
  machine::Machine machine;
  machine::Parameters<double> parameters;
};

// 20 to 8000 mg/L, 2 to 45 °C, every size, 1 to 4 elements in series and in parallel, of one age or
// of several, every kind and bank of pumps or none, 0 to 8 bar of supply or a raw tank, with and
// without each further part; and every parameter moved far from what the plates say.
RandomCase random_case(numerics::Random& random);

struct TypicalCase {
  visit::SurveyEntry survey;
  machine::MachineEntry entry;
};

// A wall unit of one or two elements that fit its pump, restrictor and site; it need not run.
TypicalCase typical_case(numerics::Random& random);

}  // namespace drawoff::support
