// What cartridges do to the ions of the water that passes them.
//
// Sediment, carbon and UV leave them as they are. A softener exchanges hardness for sodium, charge
// for charge; a mineral cartridge dissolves calcite into the product.
#pragma once

#include "units/quantity.h"
#include "water/composition.h"

namespace drawoff::machine {

// Ca, Mg, Sr and Ba but for the share `leakage` become sodium, two moles each: electroneutral.
water::Composition softened(const water::Composition& c, double leakage);

// Calcite, this much as CaCO3, dissolved by carbonic acid:  CaCO3 + CO2 + H2O -> Ca + 2 HCO3. The
// CO2 comes from the water as far as it has any, then from the air: none is counted below zero.
// Check: 10 mg/L -> 0.0999 mmol/L of Ca, 0.1998 of HCO3; hardness and alkalinity both +10 mg/L.
water::Composition mineralised(const water::Composition& c, units::Density calcite);

}  // namespace drawoff::machine
