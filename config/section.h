// Builds the keys of one table. An accessor is a generic lambda that returns the member of
// Settings which holds the value; unit and scale come from the key's name.
#pragma once

#include "config/keys.h"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <type_traits>
#include <utility>

namespace tripline::config {

struct Catalogue {
    std::vector<Table> tables;
    std::vector<Key> keys;
};

/// Nanoseconds in one unit of a duration's key.
inline double scale_of(const std::string& unit) { return unit == "s" ? 1e9 : 1e6; }

inline double to_number(Duration d, double scale) { return static_cast<double>(d.count()) / scale; }
inline double to_number(double number, double) { return number; }
template <class Quantity>
double to_number(const Quantity& quantity, double) {
    return quantity.value;
}

inline void from_number(Duration& d, double number, double scale) {
    d = Duration(std::llround(number * scale));
}
inline void from_number(double& target, double number, double) { target = number; }
template <class Quantity>
void from_number(Quantity& quantity, double number, double) {
    quantity.value = number;
}

inline double number_of(const Value& value) {
    const auto* whole = std::get_if<std::int64_t>(&value);
    return whole ? static_cast<double>(*whole) : std::get<double>(value);
}

class Section {
public:
    Section(Catalogue& catalogue, std::string table, Touches touches, std::string summary)
        : catalogue_(catalogue), table_(table), touches_(touches) {
        catalogue_.tables.push_back({std::move(table), std::move(summary)});
    }

    template <class Access>
    using Member = std::remove_cvref_t<std::invoke_result_t<Access, Settings&>>;

    template <class Access>
    Key& number(std::string_view leaf, Range range, Access access, std::string summary,
                std::string help = {}) {
        Key& key = add(leaf, Type::number, std::move(summary), std::move(help));
        key.range = range;
        const double scale = scale_of(key.unit);
        key.read = [=](const Settings& s) { return Value(to_number(access(s), scale)); };
        key.write = [=](Settings& s, const Value& v) {
            from_number(access(s), number_of(v), scale);
        };
        return key;
    }

    template <class Access>
    Key& whole(std::string_view leaf, Range range, Access access, std::string summary,
               std::string help = {}) {
        Key& key = add(leaf, Type::whole, std::move(summary), std::move(help));
        key.range = range;
        key.read = [=](const Settings& s) { return Value(std::int64_t{access(s)}); };
        key.write = [=](Settings& s, const Value& v) {
            access(s) = static_cast<Member<Access>>(std::get<std::int64_t>(v));
        };
        return key;
    }

    template <class Access>
    Key& boolean(std::string_view leaf, Access access, std::string summary, std::string help = {}) {
        return plain<bool>(Type::boolean, leaf, access, std::move(summary), std::move(help));
    }

    template <class Access>
    Key& text(std::string_view leaf, Access access, std::string summary, std::string help = {}) {
        return plain<std::string>(Type::text, leaf, access, std::move(summary), std::move(help));
    }

    template <class Access>
    Key& choice(std::string_view leaf, Access access,
                std::vector<std::pair<std::string, Member<Access>>> names, std::string summary,
                std::string help = {}) {
        Key& key = add(leaf, Type::choice, std::move(summary), std::move(help));
        for (const auto& name : names) key.choices.push_back(name.first);
        key.read = [=](const Settings& s) {
            const auto is = [&](const auto& name) { return name.second == access(s); };
            const auto found = std::find_if(names.begin(), names.end(), is);
            return Value(found == names.end() ? std::string() : found->first);
        };
        key.write = [=](Settings& s, const Value& v) {
            const auto is = [&](const auto& name) {
                return name.first == std::get<std::string>(v);
            };
            access(s) = std::find_if(names.begin(), names.end(), is)->second;
        };
        return key;
    }

    /// A key without read and write: the caller gives them.
    Key& add(std::string_view leaf, Type type, std::string summary, std::string help) {
        Key& key = catalogue_.keys.emplace_back();
        key.path = table_ + '.' + std::string(leaf);
        key.type = type;
        key.unit = unit_of(key.path);
        key.touches = touches_;
        key.summary = std::move(summary);
        key.help = std::move(help);
        return key;
    }

private:
    template <class T, class Access>
    Key& plain(Type type, std::string_view leaf, Access access, std::string summary,
               std::string help) {
        Key& key = add(leaf, type, std::move(summary), std::move(help));
        key.read = [=](const Settings& s) { return Value(T(access(s))); };
        key.write = [=](Settings& s, const Value& v) { access(s) = std::get<T>(v); };
        return key;
    }

    Catalogue& catalogue_;
    std::string table_;
    Touches touches_;
};

// The tables, a file each. The order of the calls is the order in the file.
void add_sound_keys(Catalogue& catalogue);
void add_detector_keys(Catalogue& catalogue);
void add_station_keys(Catalogue& catalogue);
void add_line_keys(Catalogue& catalogue);
void add_service_keys(Catalogue& catalogue);

}  // namespace tripline::config
