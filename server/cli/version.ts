/** The version of the program; a test holds it to that of the package. */
export const version = "0.1.0";
