// How a new job is begun, whichever way: what the server is asked for.

export type Begin = (body: Record<string, unknown>) => Promise<void>;
