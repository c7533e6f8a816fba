#include "daemon/cli/write_file.h"

#include <fstream>
#include <stdexcept>

namespace tripline::cli {

void write_file(const std::string& path, const std::string& text) {
    std::ofstream file(path, std::ios::binary | std::ios::trunc);
    if (!(file << text).flush()) throw std::runtime_error(path + ": cannot be written");
}

}  // namespace tripline::cli
