/**
 * Where the parts of a template lie in its record, bytes: the inverse normal matrix (when it is cut, the upper triangle of the matrix
 * itself), mean and contrast as doubles, then three blocks of rows of floats, each row a whole number of vectors: grey less its mean,
 * weighted slopes. Behind the end of a row its last column is taken again, with no weight.
 */

/** Shift x and y, the four terms of the deformation, gain, offset. */
export const UNKNOWNS: i32 = 8;
export const MEAN_AT: i32 = 512;
export const CONTRAST_AT: i32 = 520;
export const ROWS_AT: i32 = 528;
