/** The keys of a record that its schema names; records also carry keys of later versions, which types need not know. */
export type Named<T> = { [K in keyof T as string extends K ? never : number extends K ? never : K]: T[K] };
