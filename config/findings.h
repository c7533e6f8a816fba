// What the rules about several keys find.
#pragma once

#include "config/load.h"

#include <string>
#include <vector>

namespace tripline::config {

/// Collects findings for the problems of `loaded`. Each names the keys it is about: the first
/// is blamed, the first that was written gives the place. If one of them is already in error
/// the finding is dropped.
class Findings {
public:
    explicit Findings(Loaded& loaded) : loaded_(loaded), before_(loaded.problems) {}

    void error(const std::vector<std::string>& keys, std::string what, std::string allowed = {});
    void note(const std::vector<std::string>& keys, std::string what);
    /// The key was written somewhere.
    bool given(const std::string& key) const { return loaded_.origins.count(key) > 0; }

    /// Another was written in its place, and that is told already.
    bool meant(const std::string& key) const;

private:
    void add(const std::vector<std::string>& keys, Problem problem);

    Loaded& loaded_;
    Problems before_;
};

std::string number_text(double number);
std::string ms_text(Duration duration);  ///< "1500 ms"

// The rules, a file each.
void check_detector(const Settings& settings, Findings& found);
void check_station(const Settings& settings, Findings& found);
void check_sound(const Settings& settings, Findings& found);
void check_lines(const Settings& settings, Findings& found);
void check_page(const Settings& settings, Findings& found);

}  // namespace tripline::config
