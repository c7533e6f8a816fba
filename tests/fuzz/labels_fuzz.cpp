// Any bytes as labels: labels or one clear error; what is read is written and read again
// to the millisecond.
#include "daemon/replay/labels.h"

#include <cstdint>
#include <cstdlib>
#include <sstream>
#include <stdexcept>

namespace {

using namespace tripline::replay;

std::vector<Label> parse(const std::string& text) {
    std::istringstream stream(text);
    return parse_labels(stream, "fuzz");
}

void check_round_trip(const std::vector<Label>& labels) {
    std::ostringstream text;
    write_labels(text, labels);
    const auto again = parse(text.str());
    if (again.size() != labels.size()) std::abort();
    for (std::size_t i = 0; i < labels.size(); ++i) {
        if (std::chrono::abs(again[i].onset - labels[i].onset) > std::chrono::milliseconds(1)) std::abort();
        if (again[i].name != labels[i].name || again[i].channel != labels[i].channel) std::abort();
    }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string text(reinterpret_cast<const char*>(data), size);
    std::vector<Label> labels;
    try {
        labels = parse(text);
    } catch (const std::runtime_error& error) {
        if (std::string(error.what()).find("fuzz:") != 0) std::abort();
        return 0;
    }
    check_round_trip(labels);
    return 0;
}
