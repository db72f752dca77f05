//! The program: hands its arguments to [`clothwright::cli`].
fn main() -> std::process::ExitCode {
    clothwright::cli::main()
}
