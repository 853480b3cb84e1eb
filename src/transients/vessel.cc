#include "transients/vessel.h"

namespace drawoff::transients {

double content(const AirTank& tank, double pressure) {
  if (!(pressure > tank.precharge)) return 0;
  return tank.volume * (pressure - tank.precharge) / (pressure + kAtmosphere);
}

double pressure(const AirTank& tank, double held) {
  return (tank.precharge + kAtmosphere) * tank.volume / (tank.volume - held) - kAtmosphere;
}

double content(const Line& line, double pressure) {
  return line.compliance * pressure + line.air * pressure / (pressure + kAtmosphere);
}

double wall_give(const TubeWall& wall) {
  const double a = wall.bore / 2;
  const double b = a + wall.thickness;
  const double ring = b * b - a * a;
  const double k = a * a / ring;
  return (2 * ((b * b + a * a) / ring + wall.poisson) + k * (1 - 4 * wall.poisson)) / wall.modulus;
}

double content(const Store& store, double pressure) {
  return content(store.line, pressure) + (store.tank ? content(*store.tank, pressure) : 0);
}

double give(const Store& store, double pressure) {
  const double whole = pressure + kAtmosphere;
  double sum = store.line.compliance + store.line.air * kAtmosphere / (whole * whole);
  if (store.tank && pressure >= store.tank->precharge) {
    sum += store.tank->volume * (store.tank->precharge + kAtmosphere) / (whole * whole);
  }
  return sum;
}

}  // namespace drawoff::transients
