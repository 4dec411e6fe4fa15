/** The guest's step whose files are proxies of its clips: one file for each, beside nothing else. */
export const PROXY_STEP = 'proxy-render/render';
