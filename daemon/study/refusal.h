#pragma once

#include <stdexcept>

namespace tripline::study {

/// What cannot be worked out for a reason that the operator can mend.
struct Refusal : std::runtime_error {
    using std::runtime_error::runtime_error;
};

}  // namespace tripline::study
