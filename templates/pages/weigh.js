// Weighing at the sink.
