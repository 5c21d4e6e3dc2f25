// The cautions of the book: shown quietly wherever contact is.
import type { BookOut } from "../wire/types.ts";

export const Caution = ({ book }: { book: BookOut | null }) =>
	book === null || book.caution === "" ? null : <p class="caution">{book.caution}</p>;
