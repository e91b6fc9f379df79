/** The page of the refit table. */
export {};
