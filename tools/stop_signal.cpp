#include "tools/stop_signal.hpp"

#include <csignal>

namespace sandfreeze::tools
{

namespace
{

// A signal handler can reach nothing but a variable of this kind.
volatile std::sig_atomic_t signal_that_came = 0;

extern "C" void note_signal(int number)
{
    signal_that_came = number;
}

/// Once, so that a second signal kills.
enum class Serves { once, always };

void listen_for(int number, Serves times)
{
    struct sigaction before = {};
    if (sigaction(number, nullptr, &before) != 0 || before.sa_handler == SIG_IGN) return;
    struct sigaction action = {};
    action.sa_handler = note_signal;
    sigemptyset(&action.sa_mask);
    action.sa_flags = SA_RESTART;  // what is being read or written goes on
    if (times == Serves::once) action.sa_flags |= static_cast<int>(SA_RESETHAND);
    sigaction(number, &action, nullptr);
}

}  // namespace

void listen_for_stop()
{
    listen_for(SIGINT, Serves::once);
    listen_for(SIGTERM, Serves::once);
    listen_for(SIGHUP, Serves::always);  // a shell that ends sends it, and the system once more
}

std::optional<ExitCode> stop_asked()
{
    if (signal_that_came == SIGINT) return ExitCode::interrupted;
    if (signal_that_came == SIGTERM) return ExitCode::terminated;
    if (signal_that_came == SIGHUP) return ExitCode::hung_up;
    return std::nullopt;
}

}  // namespace sandfreeze::tools
