// A spiral element at work: solution-diffusion along the feed channel.
//
// Water passes the membrane at A (Δp − Δπ) and salt at B Δc, both at the wall, where the salt that
// the membrane holds back has piled up (film theory). The stream along the leaf loses water, gains
// strength and loses pressure; three Gauss points per element carry that (collocation, sixth
// order), in conservative form: what the outlet lacks is exactly what the permeate holds.
//
// Salt is counted relative to the raw water: s = 1 is the raw water's composition as it is, s = 2
// twice as strong. The raw water's own osmotic curve gives the pressure for any s.
//
//   wall      s_m − s_p = (s − s_p) e^(J/k)                          film theory [michaels1968]
//   water     J = A [p − p_p − π(s_m) + π(s_p)]                 [m/s]
//   salt      J s_p = B (s_m − s_p)                             [m/s]  [lonsdale1965]
//   leak      J_leak = λ (p − p_p), at the strength s of the stream: seal bypass
//   stream    dQ/dx = −(J + J_leak) a,  d(Q s)/dx = −(J s_p + J_leak s) a,  dp/dx = −friction
//
// Range: π(s) within its curve; recovery below the point where the stream is used up, which comes
// back as a status, not as a number.
//
// Every function is a template on the scalar: double for values, Dual<N> for exact derivatives.
#pragma once

#include <array>

#include "membrane/channel.h"
#include "membrane/collocation.h"
#include "water/osmotic_curve.h"

namespace drawoff::membrane {

// The membrane itself, at the temperature of the water, SI: A [m/(s·Pa)], B [m/s].
template <class S>
struct Membrane {
  S water_permeability{};
  S salt_permeability{};
  S leak{};                 // conductance of a bypass, [m/(s·Pa)] per area; 0 for a sound element
  S mass_transfer{1.0};     // multiplier on k
  S channel_friction{1.0};  // multiplier on friction
};

// A stream in the channel, SI: flow [m³/s], salt = flow × s [m³/s], pressure [Pa, gauge].
template <class S>
struct Stream {
  S flow{};
  S salt{};
  S pressure{};
};

template <class S>
struct Surroundings {
  const water::OsmoticCurve* osmotic = nullptr;
  S temperature{};  // [K]
  Fluid<S> fluid;
  S permeate_pressure{};  // [Pa, gauge]
  MassTransferLaw law = MassTransferLaw::kJoined;
};

enum class ElementStatus {
  kSolved,
  kExhausted,  // the membrane takes (nearly) all the water it is given: no stream is left
};

// The leaf at one Gauss point.
template <class S>
struct LeafPoint {
  S flow{};          // of the stream [m³/s]
  S strength{};      // s of the stream
  S flux{};          // J [m/s]
  S polarisation{};  // e^(J/k)
  S wall{};          // s_m
};

template <class S>
struct ElementResult {
  ElementStatus status = ElementStatus::kSolved;
  Stream<S> reject;
  S permeate_flow{};  // [m³/s]
  S permeate_salt{};  // permeate flow × s_p [m³/s]
  S wall_salt{};      // s_m at the last Gauss point
  S polarisation{};   // (s_m − s_p)/(s − s_p), mean over the element
  S flux{};           // mean water flux [m/s]
  std::array<LeafPoint<S>, kPoints> points{};
  S leak{};           // through a bypass, per area [m/s]
  S friction_loss{};  // of the channel, feed to reject [Pa]
};

// One element on a feed. Channel and status are plain; all else carries derivatives when S does.
template <class S>
ElementResult<S> pass_element(const Channel& channel,
                              const Membrane<S>& membrane,
                              const Surroundings<S>& around,
                              const Stream<S>& feed);

// A point of the membrane, for a given wall-side state: the local solution-diffusion problem.
struct LocalFlux {
  double flux = 0;      // J [m/s]
  double wall = 0;      // s_m
  double permeate = 0;  // s_p
};
// Unique because the driving pressure falls and the osmotic pressure at the wall rises with J.
// With no net pressure, J is 0 or A·Δp backwards (nearly fresh permeate returns).
LocalFlux local_flux(const Membrane<double>& membrane,
                     const Surroundings<double>& around,
                     double mass_transfer,
                     double bulk_salt,
                     double pressure_difference);

}  // namespace drawoff::membrane
