//! The program: hands its arguments to [`clothwright::cli`].
/// Large buffers are kept for the next that asks, not given back to the kernel in between.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() -> std::process::ExitCode {
    clothwright::cli::main()
}
