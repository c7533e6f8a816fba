// Another station at the control socket that this one is to have.
#pragma once

#include <stdexcept>
#include <string>

namespace tripline::control {

/// what() says which process it is and with which settings, as far as that is known.
class AnotherStation : public std::runtime_error {
    using std::runtime_error::runtime_error;
};

/// At start-up. Throws AnotherStation when somebody listens at `path`: a second station there could not be made safe by
/// `tripline safe`. Waits a second at most for what he says. Nobody: nothing.
void refuse_beside_another(const std::string& path);

}  // namespace tripline::control
