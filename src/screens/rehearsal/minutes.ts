/** Minutes after which the last page comes; going on gives as many again. */
export const rehearsalMinutes = 5;
