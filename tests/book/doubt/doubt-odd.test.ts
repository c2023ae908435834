import { studyHalf } from "./halves.ts";

studyHalf(1);
