// A plugin for qemu's user emulation that counts the instructions a program executes and prints the sum at its end.
// The few declarations are those of qemu's public interface for plugins, include/qemu/qemu-plugin.h of QEMU 7.2
// ("QEMU TCG Plugins" in its manual), which Debian 12 does not package.
#include <cinttypes>
#include <cstdint>
#include <cstdio>

extern "C" {

struct qemu_plugin_tb;
void qemu_plugin_register_vcpu_tb_trans_cb(std::uint64_t id, void (*translated)(std::uint64_t id, qemu_plugin_tb* block));
void qemu_plugin_register_vcpu_tb_exec_cb(qemu_plugin_tb* block, void (*executed)(unsigned cpu, void* data), int flags,
                                          void* data);
void qemu_plugin_register_atexit_cb(std::uint64_t id, void (*ended)(std::uint64_t id, void* data), void* data);
std::size_t qemu_plugin_tb_n_insns(const qemu_plugin_tb* block);
void qemu_plugin_outs(const char* text);

[[gnu::visibility("default")]] extern const int qemu_plugin_version = 1;
[[gnu::visibility("default")]] int qemu_plugin_install(std::uint64_t id, const void* about, int count, char** words);
}

namespace {

constexpr int reads_no_registers = 0;  // QEMU_PLUGIN_CB_NO_REGS
std::uint64_t executed = 0;            // of a program with one thread

void count(unsigned, void* instructions) { executed += reinterpret_cast<std::uintptr_t>(instructions); }

void translated(std::uint64_t, qemu_plugin_tb* block) {
    qemu_plugin_register_vcpu_tb_exec_cb(block, count, reads_no_registers,
                                         reinterpret_cast<void*>(qemu_plugin_tb_n_insns(block)));
}

void tell(std::uint64_t, void*) {
    char text[64];
    std::snprintf(text, sizeof text, "%" PRIu64 " instructions\n", executed);
    qemu_plugin_outs(text);
}

}  // namespace

int qemu_plugin_install(std::uint64_t id, const void*, int, char**) {
    qemu_plugin_register_vcpu_tb_trans_cb(id, translated);
    qemu_plugin_register_atexit_cb(id, tell, nullptr);
    return 0;
}
