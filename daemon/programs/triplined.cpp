// The daemon.
#include "daemon/cli/daemon_program.h"
#include "daemon/cli/exit_codes.h"
#include "daemon/cli/private_files.h"
#include "daemon/cli/standard_descriptors.h"

int main(int argc, char** argv) {
    using namespace tripline::cli;
    if (!fill_standard_descriptors()) return static_cast<int>(ExitCode::refused);
    keep_files_private();
    return run_daemon(argc, argv);
}
