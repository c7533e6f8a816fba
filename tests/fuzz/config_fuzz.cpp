// Any bytes as a configuration file, and as a setting on the command line: problems or
// settings, never an exception; and what is shown loads to the same settings.
#include "config/load.h"
#include "config/write.h"

#include <cstdint>
#include <cstdlib>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace tripline::config;
    const std::string text(reinterpret_cast<const char*>(data), size);
    const auto loaded = load_text(text, "fuzz");
    const auto again = load_text(show(loaded), "shown");
    if (!differences(loaded.settings, again.settings).empty()) std::abort();
    for (const auto& problem : load_defaults({text}).problems) {
        if (to_string(problem).empty()) std::abort();
    }
    return 0;
}
