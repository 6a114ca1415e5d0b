// The program: hands the command line to a command, and turns what goes wrong into a message and an exit
// code.

#include <csignal>
#include <exception>
#include <iostream>
#include <new>
#include <string_view>
#include <system_error>

#include "io/errors.hpp"
#include "io/text.hpp"
#include "tools/command_line.hpp"
#include "tools/help_topics.hpp"
#include "tools/look_command.hpp"
#include "tools/materials_command.hpp"
#include "tools/resume_command.hpp"
#include "tools/run_command.hpp"
#include "tools/sheet_command.hpp"

namespace
{

using namespace sandfreeze;
using tools::ExitCode;

struct Carry {
    ExitCode operator()(const tools::RunRequest& request) const { return tools::run(request); }
    ExitCode operator()(const tools::ResumeRequest& request) const { return tools::resume(request); }
    ExitCode operator()(const tools::LookRequest& request) const { return tools::look(request); }
    ExitCode operator()(const tools::SheetRequest& request) const { return tools::sheet(request); }
    ExitCode operator()(const tools::MaterialsRequest& request) const
    {
        return tools::show_materials(request);
    }
    ExitCode operator()(const tools::HelpRequest& request) const { return tools::help(request); }
    ExitCode operator()(const tools::TextRequest& request) const
    {
        std::cout << request.text;
        return ExitCode::done;
    }
};

ExitCode carry_out(std::span<const char* const> words)
{
    const ExitCode code = std::visit(Carry{}, tools::read_command_line(words));
    std::cout.flush();
    if (!std::cout && code != ExitCode::hung_up)  // nobody is there to read it
        throw io::FileError("standard output", "write", 0, "is the disk full, or has its reader ended?");
    return code;
}

ExitCode complain(ExitCode code, std::string_view message)
{
    std::cout.flush();
    std::cerr << "sandfreeze: " << io::printable(message) << '\n';
    return code;
}

ExitCode guarded(std::span<const char* const> words)
{
    try {
        return carry_out(words);
    } catch (const tools::UsageError& error) {
        return complain(ExitCode::wrong_input, error.what());
    } catch (const io::InputError& error) {
        std::cerr << error.what() << '\n';  // opens with the file's name and line, where editors look for it
        return ExitCode::wrong_input;
    } catch (const io::FileError& error) {
        return complain(ExitCode::file_failed, error.what());
    } catch (const solver::SolverError& error) {
        return complain(ExitCode::solver_failed, error.what());
    } catch (const std::bad_alloc&) {
        return complain(
            ExitCode::solver_failed,
            "the memory of this machine is used up; make cell_mm larger, or close other programs");
    } catch (const std::system_error& error) {  // such as a thread that cannot be started
        return complain(ExitCode::solver_failed, std::string("the system refused something: ") +
                                                     error.what() +
                                                     "; close other programs, or use --threads 1");
    } catch (const std::exception& error) {
        return complain(ExitCode::solver_failed,
                        std::string("this is a mistake of the program, not yours: ") + error.what() +
                            "\nPlease report it together with the case file.");
    }
}

}  // namespace

int main(int count, char** words)
{
    // A reader that has gone away, or a limit on files, is a write that fails like any other.
    std::signal(SIGPIPE, SIG_IGN);
    std::signal(SIGXFSZ, SIG_IGN);
    return static_cast<int>(guarded({words, static_cast<std::size_t>(count)}));
}
