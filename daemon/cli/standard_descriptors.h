// Descriptors 0, 1 and 2, which a program may be started without.
#pragma once

namespace tripline::cli {

/// Opens /dev/null in place of each that is closed: otherwise a line's device, opened next, would
/// get its number, and be written to by every message. First in main(). False: not possible.
bool fill_standard_descriptors() noexcept;

}  // namespace tripline::cli
