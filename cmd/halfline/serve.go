package main

import "context"

func serve(ctx context.Context, s stdio, args []string) int { return exitDone }
