// The door of the extension: JupyterLab asks the object below for the plugin, the way it asks any prebuilt extension.
// It runs seconds before JupyterLab has started, so the style, the bar and the page's kernel are begun here.
(() => {
  const here = new URL('.', document.currentScript.src).href;
  for (const name of ['style.css', 'show.css']) {
    document.head.append(Object.assign(document.createElement('link'), {rel: 'stylesheet', href: here + name}));
  }
  const early = import(here + 'early.js').then(module => module.begin());
  let shared;
  window._JUPYTERLAB = window._JUPYTERLAB || {};
  window._JUPYTERLAB['jetlib-page'] = {
    init: scope => {
      shared = scope;
    },
    get: async () => {
      await early;
      const take = async name => (await Object.values(shared[name])[0].get())();
      const {plugins} = await import(here + 'plugin.js');
      const made = await plugins(take);
      return () => ({__esModule: true, default: made});
    }
  };
})();
