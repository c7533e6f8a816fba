// `tripline help COMMAND`, another way to say `tripline COMMAND --help`.
#pragma once

#include <string>
#include <vector>

namespace CLI {
class App;
}

namespace tripline::cli {

/// The words after the program's name, `help COMMAND...` said as `COMMAND... --help`.
std::vector<std::string> without_help_command(const CLI::App& program, std::vector<std::string> words);

}  // namespace tripline::cli
