export async function printJoins(_model: string, _cuts: number): Promise<void> {}
