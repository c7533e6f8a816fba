// Writes the manual pages and the completions into a folder. Runs at build time only.
#include "config/reference.h"
#include "daemon/cli/completions.h"
#include "daemon/cli/daemon_program.h"
#include "daemon/cli/manual_pages.h"
#include "daemon/cli/program.h"

#include <cstdio>
#include <exception>
#include <filesystem>
#include <fstream>
#include <stdexcept>

namespace {

void write(const std::filesystem::path& file, const std::string& text) {
    std::ofstream out(file, std::ios::binary);
    if (!(out << text).flush()) throw std::runtime_error("can't write " + file.string());
}

void write_all(const std::filesystem::path& folder) {
    using namespace tripline::cli;
    auto outcome = ExitCode::good;
    const auto tool = outline_of(*make_program(outcome));
    DaemonOptions options;
    const auto daemon = outline_of(*make_daemon_program(options));
    const Programs programs{tool, daemon};
    std::filesystem::create_directories(folder);
    write(folder / "tripline.1", tool_page(tool));
    write(folder / "triplined.8", daemon_page(daemon));
    write(folder / "tripline.toml.5", settings_page());
    write(folder / "configuration-keys.md", tripline::config::key_reference());
    write(folder / "tripline.bash", bash_completion(programs));
    write(folder / "_tripline", zsh_completion(programs));
    write(folder / "tripline.fish", fish_completion(programs));
}

}  // namespace

int main(int argc, char** argv) {
    try {
        if (argc != 2) throw std::runtime_error("usage: write_pages FOLDER");
        write_all(argv[1]);
        return 0;
    } catch (const std::exception& error) {
        std::fprintf(stderr, "write_pages: %s\n", error.what());
        return 2;
    }
}
