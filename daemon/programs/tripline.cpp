// The operator's tool.
#include "daemon/cli/program.h"

int main(int argc, char** argv) { return tripline::cli::run_program(argc, argv); }
