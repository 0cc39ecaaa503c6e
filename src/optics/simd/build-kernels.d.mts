export function fingerprint(): string;
