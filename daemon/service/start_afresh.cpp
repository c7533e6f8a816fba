#include "daemon/service/start_afresh.h"

#include <unistd.h>

#include <fstream>
#include <string>
#include <vector>

namespace tripline::service {

void start_afresh() {
    std::ifstream file("/proc/self/cmdline", std::ios::binary);
    std::vector<std::string> arguments;
    for (std::string argument; std::getline(file, argument, '\0');) arguments.push_back(argument);
    std::vector<char*> pointers;
    for (std::string& argument : arguments) pointers.push_back(argument.data());
    pointers.push_back(nullptr);
    ::close_range(3, ~0U, 0);  // what the libraries left open
    ::execv("/proc/self/exe", pointers.data());
    ::_exit(1);
}

}  // namespace tripline::service
