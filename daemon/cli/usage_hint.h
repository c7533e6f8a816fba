// What to tell an operator whose command line was not understood.
#pragma once

#include <string>

namespace CLI {
class App;
class Error;
}  // namespace CLI

namespace tripline::cli {

/// Two lines: what is wrong, with a suggestion if one is near, and where to read on.
std::string usage_hint(const CLI::App& program, const CLI::Error& error);

/// "tripline config check": the program and the commands the operator got to.
std::string name_of(const CLI::App& program);

}  // namespace tripline::cli
