// The daemon.
#include "daemon/cli/daemon_program.h"

int main(int argc, char** argv) { return tripline::cli::run_daemon(argc, argv); }
