// The Boost.Math policy of the engine: errors come back as values (errno, NaN), never as throws.
#pragma once

#include <boost/math/policies/policy.hpp>

namespace drawoff::numerics {

using QuietPolicy = boost::math::policies::policy<
    boost::math::policies::domain_error<boost::math::policies::errno_on_error>,
    boost::math::policies::pole_error<boost::math::policies::errno_on_error>,
    boost::math::policies::overflow_error<boost::math::policies::errno_on_error>,
    boost::math::policies::evaluation_error<boost::math::policies::errno_on_error>,
    boost::math::policies::rounding_error<boost::math::policies::errno_on_error>,
    boost::math::policies::promote_double<false>>;
inline constexpr QuietPolicy kQuietPolicy{};

}  // namespace drawoff::numerics
