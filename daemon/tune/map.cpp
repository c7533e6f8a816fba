#include "daemon/tune/map.h"

#include <cmath>
#include <map>

namespace tripline::tune {

double without_residue(double value) { return std::round(value * 1e9) / 1e9; }

std::string Axis::unit() const {
    static const std::map<std::string, std::string> units{
        {"db", "dB"}, {"dbfs", "dB"}, {"ms", "ms"}, {"s", "s"}, {"hz", "Hz"}};
    const auto end = key.rfind('_');
    const auto found = end == std::string::npos ? units.end() : units.find(key.substr(end + 1));
    return found == units.end() ? std::string() : found->second;
}

}  // namespace tripline::tune
