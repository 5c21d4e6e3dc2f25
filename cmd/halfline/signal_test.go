package main

import "syscall"

// terminate is how a service manager asks a process to stop.
const terminate = syscall.SIGTERM
