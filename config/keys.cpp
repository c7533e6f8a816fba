#include "config/keys.h"

#include "config/section.h"

#include <algorithm>

namespace tripline::config {
namespace {

Catalogue make_catalogue() {
    Catalogue catalogue;
    add_station_keys(catalogue);
    add_sound_keys(catalogue);
    add_line_keys(catalogue);
    add_detector_keys(catalogue);
    add_service_keys(catalogue);
    return catalogue;
}

const Catalogue& catalogue() {
    static const Catalogue the_catalogue = make_catalogue();
    return the_catalogue;
}

}  // namespace

std::span<const Table> all_tables() { return catalogue().tables; }

std::span<const Key> all_keys() { return catalogue().keys; }

const Key* find_key(std::string_view path) {
    const auto keys = all_keys();
    const auto found =
        std::find_if(keys.begin(), keys.end(), [&](auto& k) { return k.path == path; });
    return found == keys.end() ? nullptr : &*found;
}

bool is_table(std::string_view path) {
    const auto tables = all_tables();
    return std::any_of(tables.begin(), tables.end(), [&](const Table& table) {
        return table.path == path || table.path.starts_with(std::string(path) + '.');
    });
}

}  // namespace tripline::config
