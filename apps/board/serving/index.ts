export { makePage, PAGE_FOLDER } from './page-folder.ts';
