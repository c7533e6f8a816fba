// help
#include "daemon/cli/help_command.h"

#include "daemon/cli/commands.h"

#include <CLI/CLI.hpp>

#include <memory>

namespace tripline::cli {

void add_help(CLI::App& program) {
    auto* command = program.add_subcommand("help", "Explain a command, as its --help does");
    const auto words = std::make_shared<std::vector<std::string>>();
    command->add_option("COMMAND", *words, "The command; without it, all are listed");
    command->callback([words] {});   // keeps them: the words never come here, see without_help_command()
}

std::vector<std::string> without_help_command(const CLI::App& program, std::vector<std::string> words) {
    if (words.empty() || words.front() != "help") return words;
    words.erase(words.begin());
    const CLI::App* app = &program;
    for (const std::string& word : words) {
        const auto commands = app->get_subcommands([&](const CLI::App* one) { return one->get_name() == word; });
        if (commands.empty()) return words;   // is told as a command that there is not
        app = commands.front();
    }
    words.emplace_back("--help");
    return words;
}

}  // namespace tripline::cli
