#include "tools/bench/child_process.hpp"

#include <spawn.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <chrono>
#include <fstream>
#include <stdexcept>

namespace sandfreeze::bench
{
namespace
{

double seconds(const timeval& t)
{
    return static_cast<double>(t.tv_sec) + 1e-6 * static_cast<double>(t.tv_usec);
}

/// Starts the program with its output on the pipe; keeps the reading end.
pid_t start(const std::vector<std::string>& command, const std::array<int, 2>& pipe_ends)
{
    std::vector<std::string> words = command;
    std::vector<char*> arguments;
    arguments.reserve(words.size() + 1);
    for (std::string& word : words)
        arguments.push_back(word.data());
    arguments.push_back(nullptr);
    posix_spawn_file_actions_t actions;
    posix_spawn_file_actions_init(&actions);
    posix_spawn_file_actions_adddup2(&actions, pipe_ends[1], STDOUT_FILENO);
    posix_spawn_file_actions_addclose(&actions, pipe_ends[0]);
    posix_spawn_file_actions_addclose(&actions, pipe_ends[1]);
    pid_t child = 0;
    const int failure = posix_spawn(&child, arguments[0], &actions, nullptr, arguments.data(), environ);
    posix_spawn_file_actions_destroy(&actions);
    close(pipe_ends[1]);
    if (failure != 0) throw std::runtime_error("cannot start " + command.front());
    return child;
}

std::string read_all(int end)
{
    std::string all;
    std::array<char, 4096> some{};
    for (ssize_t n = 0; (n = read(end, some.data(), some.size())) > 0;)
        all.append(some.data(), static_cast<std::size_t>(n));
    close(end);
    return all;
}

}  // namespace

ChildRun run_child(const std::vector<std::string>& command)
{
    std::array<int, 2> pipe_ends{};
    if (pipe(pipe_ends.data()) != 0) throw std::runtime_error("cannot make a pipe");
    const auto begin = std::chrono::steady_clock::now();
    const pid_t child = start(command, pipe_ends);
    ChildRun run;
    run.output = read_all(pipe_ends[0]);
    int status = 0;
    rusage used{};
    if (wait4(child, &status, 0, &used) != child || status != 0)
        throw std::runtime_error(command.front() + " failed; it said: " + run.output);
    run.wall = std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
    run.cpu = seconds(used.ru_utime) + seconds(used.ru_stime);
    run.peak_bytes = 1024.0 * static_cast<double>(used.ru_maxrss);
    return run;
}

double peak_memory_here()
{
    std::ifstream facts("/proc/self/status");
    for (std::string name; facts >> name; facts.ignore(1 << 12, '\n')) {
        double kib = 0;
        if (name == "VmHWM:" && facts >> kib) return 1024 * kib;
    }
    throw std::runtime_error("/proc/self/status does not tell the peak memory");
}

}  // namespace sandfreeze::bench
