export function schema(): { definitions: Record<string, object> };
export function made(): Promise<Record<string, string>>;
export function onDisk(path: string): string;
