#include "config/edit_distance.h"

#include <algorithm>
#include <numeric>
#include <vector>

namespace tripline::config {

std::size_t edit_distance(std::string_view a, std::string_view b) {
    std::vector<std::size_t> before_last, last(b.size() + 1), row(b.size() + 1);
    std::iota(last.begin(), last.end(), std::size_t{0});
    for (std::size_t i = 1; i <= a.size(); ++i) {
        row[0] = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const std::size_t differs = a[i - 1] == b[j - 1] ? 0 : 1;
            row[j] = std::min({last[j] + 1, row[j - 1] + 1, last[j - 1] + differs});
            const bool swapped = i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
            if (swapped) row[j] = std::min(row[j], before_last[j - 2] + 1);
        }
        before_last = last;
        last.swap(row);
    }
    return last[b.size()];
}

}  // namespace tripline::config
